package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.util.List;
import java.util.function.IntSupplier;
import java.util.function.LongSupplier;
import java.util.function.ToDoubleFunction;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.dashboard.source.DaemonHealth;
import org.bankfire.dashboard.source.DaemonHealth.ServerHealth;
import org.bankfire.dashboard.source.DaemonHealth.SourceHealth;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.SnapshotLag;
import org.jspecify.annotations.Nullable;

/** The daemon's figures in Prometheus' text exposition format, version 0.0.4. */
final class MetricsHandler {
    private final ForgeFeed feed;
    private final DaemonHealth.Probe probe;
    private final OutputBook outputBook;
    private final IntSupplier liveClients;
    private final LongSupplier droppedClients;

    MetricsHandler(
            ForgeFeed feed,
            DaemonHealth.Probe probe,
            OutputBook outputBook,
            IntSupplier liveClients,
            LongSupplier droppedClients) {
        this.feed = feed;
        this.probe = probe;
        this.outputBook = outputBook;
        this.liveClients = liveClients;
        this.droppedClients = droppedClients;
    }

    void metrics(Context ctx) {
        StringBuilder text = new StringBuilder(1_024);
        DaemonHealth health = probe.health();
        single(text, "bankfire_ready", "gauge", "Whether every part works, 0 or 1", health.ready() ? 1 : 0);
        single(text, "bankfire_readings_stored_total", "counter", "Readings stored", (double) health.readingsStored());
        single(text, "bankfire_store_backlog", "gauge", "Readings taken and not yet stored", (double)
                health.storeBacklog());
        single(text, "bankfire_ledger_beating", "gauge", "Whether readings are judged, 0 or 1", beating(health));
        single(text, "bankfire_ledger_restarts_total", "counter", "Times that the judging thread was replaced", (double)
                health.ledger().restarts());
        single(text, "bankfire_unwatched_forges", "gauge", "Forges that are kept and not watched any more", (double)
                health.ledger().unwatched().size());
        single(text, "bankfire_live_clients", "gauge", "Pages on the live stream", liveClients.getAsInt());
        single(
                text,
                "bankfire_live_clients_dropped_total",
                "counter",
                "Pages dropped because they read too slowly",
                (double) droppedClients.getAsLong());
        health.server().ifPresent(server -> server(text, server));
        lag(text, feed.lag());
        sources(text, health, "bankfire_source_connected", "gauge", "0 or 1", s -> s.connected() ? 1 : 0);
        sources(text, health, "bankfire_source_frames_total", "counter", "Good frames", SourceHealth::frames);
        sources(text, health, "bankfire_source_bad_frames_total", "counter", "Bad frames", SourceHealth::badFrames);
        sources(text, health, "bankfire_source_lost_lines_total", "counter", "Lost lines", SourceHealth::lostLines);
        sources(text, health, "bankfire_source_reconnects_total", "counter", "Returns", SourceHealth::reconnects);
        outputs(text);
        forges(text, "bankfire_chamber_celsius", "Chamber temperature", s -> in(s.chamber(), Unit.CELSIUS));
        forges(text, "bankfire_gas_pascals", "Gas pressure, gauge", s -> in(s.gas(), Unit.PASCAL));
        forges(text, "bankfire_heat_input_watts", "Heat input", ForgeSnapshot::heatInputW);
        forges(
                text,
                "bankfire_alarms_standing",
                "Alarms not in normal state",
                s -> s.alarms().size());
        ctx.contentType("text/plain; version=0.0.4; charset=utf-8").result(text.toString());
    }

    private static void server(StringBuilder text, ServerHealth server) {
        single(
                text,
                "bankfire_database_reachable",
                "gauge",
                "The server takes what comes, 0 or 1",
                server.reachable() ? 1 : 0);
        single(text, "bankfire_database_waiting", "gauge", "Readings and entries that wait for the server", (double)
                server.waiting());
        single(text, "bankfire_database_waiting_bytes", "gauge", "Their size on the disk", (double)
                server.waitingBytes());
        single(text, "bankfire_database_behind_seconds", "gauge", "How long the oldest has waited", server.behindS());
        single(
                text,
                "bankfire_database_dropped_total",
                "counter",
                "Readings set aside since too much waited for the server",
                (double) server.dropped());
        single(text, "bankfire_database_refused_total", "counter", "Lines that the server refused", (double)
                server.refused());
    }

    private static void lag(StringBuilder text, SnapshotLag lag) {
        String name = "bankfire_snapshot_lag_seconds";
        head(text, name, "histogram", "Age of a reading in the snapshot that first shows it");
        long upTo = 0;
        for (int i = 0; i < lag.counts().size(); i++) {
            upTo += lag.counts().get(i);
            String bound = i < lag.boundsS().size() ? lag.boundsS().get(i).toString() : "+Inf";
            line(text, name + "_bucket", label("le", bound), (double) upTo);
        }
        line(text, name + "_sum", "", lag.sumS());
        line(text, name + "_count", "", (double) upTo);
    }

    private static double beating(DaemonHealth health) {
        return health.ledger().beating() ? 1 : 0;
    }

    private static double in(@Nullable Reading reading, Unit unit) {
        if (reading == null || reading.quality().isBad() || reading.unit().quantity() != unit.quantity()) {
            return Double.NaN;
        }
        return reading.unit().convert(reading.value(), unit);
    }

    private static void single(StringBuilder text, String name, String type, String help, double value) {
        head(text, name, type, help);
        line(text, name, "", value);
    }

    private static void sources(
            StringBuilder text,
            DaemonHealth health,
            String name,
            String type,
            String help,
            ToDoubleFunction<SourceHealth> of) {
        head(text, name, type, help);
        for (SourceHealth source : health.sources()) {
            line(text, name, label("source", source.name()), of.applyAsDouble(source));
        }
    }

    private void outputs(StringBuilder text) {
        List<OutputState> states = outputBook.outputs();
        outputs(
                text,
                states,
                "bankfire_output_failing",
                "gauge",
                "The latest attempt failed, 0 or 1",
                s -> s.condition() == OutputBook.Condition.FAILING ? 1 : 0);
        outputs(text, states, "bankfire_output_waiting", "gauge", "Messages that wait", OutputState::waiting);
        outputs(text, states, "bankfire_output_sent_total", "counter", "Messages that arrived", OutputState::sent);
        outputs(text, states, "bankfire_output_failed_total", "counter", "Messages given up", OutputState::failed);
        outputs(text, states, "bankfire_output_dropped_total", "counter", "Messages dropped", OutputState::dropped);
    }

    private static void outputs(
            StringBuilder text,
            List<OutputState> states,
            String name,
            String type,
            String help,
            ToDoubleFunction<OutputState> of) {
        head(text, name, type, help);
        for (OutputState state : states) {
            line(text, name, label("output", state.name()), of.applyAsDouble(state));
        }
    }

    private void forges(StringBuilder text, String name, String help, ToDoubleFunction<ForgeSnapshot> of) {
        head(text, name, "gauge", help);
        for (ForgeFace face : feed.forges()) {
            String id = face.description().id();
            feed.snapshot(id).ifPresent(s -> line(text, name, label("forge", id), of.applyAsDouble(s)));
        }
    }

    private static void head(StringBuilder text, String name, String type, String help) {
        text.append("# HELP ").append(name).append(' ').append(help).append('\n');
        text.append("# TYPE ").append(name).append(' ').append(type).append('\n');
    }

    private static void line(StringBuilder text, String name, String label, double value) {
        text.append(name).append(label).append(' ');
        if (value == Math.rint(value) && Math.abs(value) < 1e15) {
            text.append((long) value);
        } else {
            text.append(value);
        }
        text.append('\n');
    }

    private static String label(String name, String value) {
        String escaped = value.replace("\\", "\\\\").replace("\"", "\\\"").replace("\n", "\\n");
        return "{" + name + "=\"" + escaped + "\"}";
    }
}
