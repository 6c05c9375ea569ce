package org.bankfire.dashboard.api;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.Handler;
import io.javalin.http.HandlerType;
import io.javalin.http.HttpResponseException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import org.bankfire.dashboard.live.LiveHub;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.Sources;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The table of the API's routes; a test holds it to {@code openapi.json}. */
public final class ApiRoutes {
    private static final Logger LOG = LoggerFactory.getLogger(ApiRoutes.class);
    private static final String V1 = "/api/v1";
    private static final String FORGE = V1 + "/forges/{forge}";

    /**
     * One route.
     *
     * @param path with its parameters in braces, as OpenAPI writes it
     */
    public record Route(HandlerType method, String path, Handler handler) {}

    private ApiRoutes() {}

    /** Every route of the API. */
    public static List<Route> of(Sources sources, LiveHub live) {
        ForgeFeed feed = sources.feed();
        LogBook logBook = sources.logBook();
        ForgeControls controls = sources.controls();
        OutputBook outputBook = sources.outputs();
        SeriesHandler series = new SeriesHandler(feed, sources.series());
        NotesHandler notes = new NotesHandler(feed, logBook, live::announceWritten);
        SettingsHandler settings = new SettingsHandler(feed, logBook, live::announceWritten);
        EntriesHandler entries = new EntriesHandler(feed, logBook, live::announceWritten);
        AlarmsHandler alarms = new AlarmsHandler(feed, logBook, controls);
        FitsHandler fits = new FitsHandler(feed, sources.fits());
        ReportsHandler reports = new ReportsHandler(feed, sources.reports());
        OutlookHandler outlook = new OutlookHandler(feed, sources.outlook());
        TrialsHandler trials = new TrialsHandler(feed, sources.trials());
        WhatIfHandler whatIf = new WhatIfHandler(feed, sources.whatIf());
        DemoHandler demo = new DemoHandler(controls);
        HealthHandler health = new HealthHandler(sources.health(), outputBook);
        OutputsHandler outputs = new OutputsHandler(outputBook);
        MetricsHandler metrics =
                new MetricsHandler(feed, sources.health(), outputBook, live::clients, live::droppedClients);
        LiveHandler liveHandler = new LiveHandler(feed, live);
        return List.of(
                get(V1 + "/forges", new ForgesHandler(feed, controls)::list),
                get(V1 + "/fleet", new FleetHandler(feed)::fleet),
                get(FORGE + "/now", new NowHandler(feed)::now),
                get(FORGE + "/channels", series::channels),
                get(FORGE + "/series", series::series),
                get(FORGE + "/notes", notes::list),
                post(FORGE + "/notes", notes::add),
                get(FORGE + "/settings", settings::list),
                post(FORGE + "/settings", settings::add),
                get(FORGE + "/settings/in-force", entries::inForce),
                get(FORGE + "/entries", entries::list),
                post(FORGE + "/entries/correct", entries::correct),
                post(FORGE + "/weighings", entries::weigh),
                get(FORGE + "/alarms", alarms::list),
                post(FORGE + "/alarms/{alarm}/acknowledge", alarms::acknowledge),
                post(FORGE + "/alarms/{alarm}/shelve", alarms::shelve),
                post(FORGE + "/alarms/{alarm}/unshelve", alarms::unshelve),
                post(FORGE + "/alarms/{alarm}/service", alarms::service),
                get(FORGE + "/burns", new BurnsHandler(feed, logBook)::list),
                get(V1 + "/burns/{burn}/fit", fits::ofBurn),
                get(V1 + "/burns/{burn}/report", reports::page),
                get(V1 + "/burns/{burn}/report.pdf", reports::pdf),
                get(V1 + "/burns/{burn}/export", reports::export),
                get(FORGE + "/fit", fits::now),
                get(FORGE + "/outlook", outlook::outlook),
                get(FORGE + "/trials", trials::json),
                get(FORGE + "/trials.csv", trials::csv),
                get(FORGE + "/trials/report", reports::trialsPage),
                get(FORGE + "/trials/report.pdf", reports::trialsPdf),
                get(FORGE + "/what-if", whatIf::keys),
                post(FORGE + "/what-if", whatIf::ask),
                get(FORGE + "/lining", fits::lining),
                post(FORGE + "/channels/{channel}/zero", new ZeroHandler(feed, controls)::zero),
                get(V1 + "/demo/actions", demo::list),
                post(V1 + "/demo/actions", demo::trigger),
                get(V1 + "/outputs", outputs::list),
                post(V1 + "/outputs/{name}/test", outputs::test),
                get(V1 + "/live", liveHandler::open),
                get(V1 + "/openapi.json", ApiRoutes::openApi),
                get("/health", health::health),
                get("/health/live", health::live),
                get("/api/v1/store", health::store),
                get("/metrics", metrics::metrics));
    }

    /** Answers every failure in JSON. */
    public static void answerFailures(RoutesConfig routes) {
        routes.exception(ApiException.class, (failure, ctx) -> error(ctx, failure));
        routes.exception(IllegalArgumentException.class, (failure, ctx) -> {
            String message = failure.getMessage();
            error(ctx, new ApiException(400, message == null ? "the request cannot be used" : message));
        });
        routes.exception(SourceException.class, (failure, ctx) -> {
            LOG.warn("{} {}: {}", ctx.method(), ctx.path(), failure.getMessage(), failure);
            ctx.header("Retry-After", "5");
            error(ctx, new ApiException(503, String.valueOf(failure.getMessage())));
        });
        routes.exception(HttpResponseException.class, (failure, ctx) -> {
            String message = failure.getStatus() == 404
                    ? "nothing is served at " + ctx.path()
                    : String.valueOf(failure.getMessage());
            failure.getDetails().forEach((name, value) -> {
                if (name.equals("Allow")) {
                    ctx.header(name, value);
                }
            });
            error(
                    ctx,
                    failure.getStatus() == 413 ? Requests.tooLarge() : new ApiException(failure.getStatus(), message));
        });
        routes.exception(Exception.class, (failure, ctx) -> {
            LOG.error("{} {} failed", ctx.method(), ctx.path(), failure);
            error(ctx, new ApiException(500, "the daemon failed at this request; its log says more"));
        });
    }

    private static void error(Context ctx, ApiException failure) {
        Requests.answer(ctx, failure.status(), json -> {
            json.writeStringField("error", String.valueOf(failure.getMessage()));
            if (failure.field() != null) {
                json.writeStringField("field", failure.field());
                Json.text(json, "value", failure.value());
                Json.text(json, "allowed", failure.allowed());
            }
        });
    }

    private static void openApi(Context ctx) {
        try (InputStream stream =
                Objects.requireNonNull(ApiRoutes.class.getResourceAsStream("openapi.json"), "openapi.json")) {
            ctx.contentType("application/json").result(stream.readAllBytes());
        } catch (IOException e) {
            throw new UncheckedIOException("openapi.json", e);
        }
    }

    private static Route get(String path, Handler handler) {
        return new Route(HandlerType.GET, path, handler);
    }

    private static Route post(String path, Handler handler) {
        return new Route(HandlerType.POST, path, handler);
    }
}
