package org.bankfire.daemon.config;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.serial.SerialSettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;
import org.jspecify.annotations.Nullable;

/**
 * Prints a configuration as TOML with every default written out and every path absolute, so that reading it back gives
 * the same configuration. A configuration holds no secrets, only the files they are in.
 */
public final class ConfigPrinter {
    private ConfigPrinter() {}

    public static String print(BankfireConfig config) {
        TomlText text = new TomlText();
        text.header("[daemon]");
        if (config.daemon().ledgerThreads() == DaemonConfig.AUTOMATIC) {
            text.text("ledger-threads", "auto");
        } else {
            text.number("ledger-threads", config.daemon().ledgerThreads());
        }
        text.header("[dashboard]").text("listen", config.dashboard().listen());
        store(text, config.store());
        for (SourceConfig source : config.sources()) {
            text.header("[[source]]");
            if (source instanceof SourceConfig.Serial serial) {
                serial(text, serial.settings());
            } else if (source instanceof SourceConfig.Mqtt mqtt) {
                mqtt(text, mqtt.settings());
            } else if (source instanceof SourceConfig.Replay replay) {
                replay(text, replay.settings());
            } else if (source instanceof SourceConfig.Virtual virtual) {
                virtual(text, virtual.settings());
            }
        }
        for (OutputConfig output : config.outputs()) {
            new OutputPrinter(text).print(output);
        }
        for (ForgeConfig forge : config.forges()) {
            new ForgePrinter(text).print(forge);
        }
        return text.toString();
    }

    private static void store(TomlText text, StoreConfig store) {
        StoreConfig.Server server = store.server();
        text.header("[store]")
                .text("kind", server == null ? "sqlite" : "influx")
                .text("path", store.path().toString())
                .quantity(
                        "keep-readings",
                        Dimension.DURATION,
                        (double) store.keepReadings().toSeconds(),
                        "days");
        if (server != null) {
            text.text("url", server.influx().url().toString())
                    .text("database", server.influx().database());
            if (server.influx().user() != null) {
                text.text("user", server.influx().user());
            }
            file(text, "password-file", server.influx().passwordFile());
            text.quantity(
                            "keep-local",
                            Dimension.DURATION,
                            (double) server.keepLocal().toSeconds(),
                            "days")
                    .quantity("spool-limit", Dimension.SIZE, (double) server.spoolLimitBytes(), "GB");
        }
    }

    private static void serial(TomlText text, SerialSettings settings) {
        text.text("kind", "serial").text("port", settings.port()).number("baud", settings.baud());
        ChecksumPolicy checksum = ChecksumPolicy.OPTIONAL;
        if (settings.format() instanceof FrameFormat.SenMl senml) {
            checksum = senml.checksum();
        } else if (settings.format() instanceof FrameFormat.Columns columns) {
            checksum = columns.checksum();
        }
        text.text("checksum", checksum == ChecksumPolicy.REQUIRED ? "required" : "optional");
        format(text, settings.format());
    }

    private static void mqtt(TomlText text, MqttSettings settings) {
        text.text("kind", "mqtt").text("broker", settings.uri()).text("client-id", settings.clientId());
        if (settings.user() != null) {
            text.text("user", settings.user());
        }
        file(text, "password-file", settings.passwordFile());
        file(text, "ca-file", settings.caFile());
        text.text("status-topic", settings.statusTopic());
        MqttSettings.Share share = settings.share();
        if (share != null) {
            text.text("share", share.name()).text("share-by", word(SourcesReader.SHARE_BY, share.by()));
        }
        for (MqttSettings.Topic topic : settings.topics()) {
            text.header("[[source.topic]]").text("filter", topic.filter());
            format(text, topic.format());
        }
    }

    private static void replay(TomlText text, ReplaySettings settings) {
        text.text("kind", "replay")
                .texts("files", settings.files().stream().map(Path::toString).toList());
        if (Double.isInfinite(settings.speed())) {
            text.text("speed", "full");
        } else {
            text.number("speed", settings.speed());
        }
    }

    private static void virtual(TomlText text, VirtualSettings settings) {
        text.text("kind", "virtual")
                .text("forge", settings.forge())
                .number("speed", settings.speed())
                .quantity("rate", Dimension.FREQUENCY, settings.rateHz(), "Hz")
                .number("seed", settings.seed());
    }

    private static void format(TomlText text, FrameFormat format) {
        if (format instanceof FrameFormat.SenMl senml) {
            text.text("format", "senml");
            if (senml.defaultForge() != null) {
                text.text("forge", senml.defaultForge());
            }
        } else if (format instanceof FrameFormat.Columns columns) {
            text.text("format", "columns")
                    .text("forge", columns.forge())
                    .text("delimiter", String.valueOf(columns.delimiter()))
                    .texts(
                            "columns",
                            columns.columns().stream()
                                    .map(ConfigPrinter::column)
                                    .toList());
        }
    }

    private static String column(FrameFormat.Column column) {
        Unit unit = column.unit();
        return unit.symbol().isEmpty() ? column.name() : column.name() + " " + unit.symbol();
    }

    private static void file(TomlText text, String key, @Nullable Path path) {
        if (path != null) {
            text.text(key, path.toString());
        }
    }

    /** The word that stands for a value. */
    static <T> String word(Map<String, T> words, T value) {
        for (Map.Entry<String, T> entry : words.entrySet()) {
            if (entry.getValue().equals(value)) {
                return entry.getKey();
            }
        }
        throw new IllegalArgumentException("no word for " + value + " among " + List.copyOf(words.keySet()));
    }
}
