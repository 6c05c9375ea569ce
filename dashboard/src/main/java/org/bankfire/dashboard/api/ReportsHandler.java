package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.ReportBook;
import org.bankfire.dashboard.source.ReportBook.Export;
import org.bankfire.dashboard.source.ReportBook.Format;
import org.bankfire.dashboard.source.ReportBook.Paper;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.ReportBook.Recording;
import org.bankfire.dashboard.source.ReportBook.Temperature;

/** Reports of burns and of trials, and burns to take away. */
final class ReportsHandler {
    // The page has its style within itself and nothing else: no script, no picture that is fetched.
    private static final String PAGE_POLICY =
            "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private final ForgeFeed feed;
    private final ReportBook reports;

    ReportsHandler(ForgeFeed feed, ReportBook reports) {
        this.feed = feed;
        this.reports = reports;
    }

    /** The printable page. */
    void page(Context ctx) {
        answer(ctx, Format.HTML);
        ctx.header("Content-Security-Policy", PAGE_POLICY);
    }

    /** The same as a PDF. */
    void pdf(Context ctx) {
        answer(ctx, Format.PDF);
        ctx.header("Content-Disposition", "inline; filename=\"" + fileName(ctx.pathParam("burn")) + ".pdf\"");
    }

    private void answer(Context ctx, Format format) {
        String burn = ctx.pathParam("burn");
        Optional<byte[]> report = reports.report(burn, format, reader(ctx));
        ctx.status(200).contentType(format.mediaType()).result(report.orElseThrow(() -> noSuchBurn(burn)));
    }

    /** The printable page of a forge's trials. */
    void trialsPage(Context ctx) {
        trials(ctx, Format.HTML);
        ctx.header("Content-Security-Policy", PAGE_POLICY);
    }

    /** The same as a PDF. */
    void trialsPdf(Context ctx) {
        trials(ctx, Format.PDF);
        ctx.header("Content-Disposition", "inline; filename=\"trials-" + fileName(ctx.pathParam("forge")) + ".pdf\"");
    }

    private void trials(Context ctx, Format format) {
        String forge = Requests.forge(ctx, feed).description().id();
        byte[] report = reports.trials(forge, TrialsHandler.asked(ctx, feed), format, reader(ctx));
        ctx.status(200).contentType(format.mediaType()).result(report);
    }

    private static Reader reader(Context ctx) {
        return new Reader(
                choice(ctx, "temperature", Temperature.class, Temperature.C),
                choice(ctx, "pressure", Pressure.class, Pressure.BAR),
                zone(ctx),
                choice(ctx, "paper", Paper.class, Paper.A4));
    }

    /** Everything that is stored of a burn, as a file. */
    void export(Context ctx) throws IOException {
        String burn = ctx.pathParam("burn");
        Recording recording = choice(ctx, "format", Recording.class, Recording.CSV);
        Export export = reports.export(burn, recording).orElseThrow(() -> noSuchBurn(burn));
        ctx.status(200).contentType(recording.mediaType());
        ctx.header("Content-Disposition", "attachment; filename=\"" + fileName(burn) + "." + recording.ending() + "\"");
        export.writeTo(ctx.outputStream());
    }

    private static ApiException noSuchBurn(String burn) {
        return ApiException.unknown("burn", burn, "the ids that a forge's list of burns tells");
    }

    // Of a forge's id and a time; whatever else a burn might be called by must not end the header.
    private static String fileName(String burn) {
        return burn.replaceAll("[^A-Za-z0-9._-]", "_");
    }

    private static <E extends Enum<E>> E choice(Context ctx, String name, Class<E> kind, E usual) {
        String text = ctx.queryParam(name);
        if (text == null) {
            return usual;
        }
        return Arrays.stream(kind.getEnumConstants())
                .filter(each -> each.name().equalsIgnoreCase(text))
                .findFirst()
                .orElseThrow(() -> ApiException.bad(
                        name,
                        text,
                        Arrays.stream(kind.getEnumConstants())
                                .map(each -> each.name().toLowerCase(Locale.ROOT))
                                .collect(Collectors.joining(", "))));
    }

    private static ZoneId zone(Context ctx) {
        String text = ctx.queryParam("zone");
        if (text == null) {
            return ZoneOffset.UTC;
        }
        try {
            return ZoneId.of(text);
        } catch (DateTimeException bad) {
            throw ApiException.bad("zone", text, "a zone of the IANA time zone database, such as Europe/Oslo, or UTC");
        }
    }
}
