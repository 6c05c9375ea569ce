package org.bankfire.analysis.trial;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/** One burn as trials see it, made by a {@link TrialRecorder}. Immutable. */
public final class TrialBurn {
    private final String burnId;
    private final WallTime start;
    private final ForgeDescription forge;
    private final BurnRecord record;
    private final List<Span> spans;
    private final @Nullable KnownForge fit;
    private final FlutterWindows chamberFlutter;
    private final FlutterWindows gasFlutter;

    /**
     * A span of equal settings.
     *
     * @param fromS s since the burn's start
     * @param toS after {@code fromS}
     * @param settings in force
     */
    record Span(double fromS, double toS, TrialSettings settings) {}

    TrialBurn(
            String burnId,
            WallTime start,
            ForgeDescription forge,
            BurnRecord record,
            List<Span> spans,
            @Nullable KnownForge fit,
            FlutterWindows chamberFlutter,
            FlutterWindows gasFlutter) {
        this.burnId = burnId;
        this.start = start;
        this.forge = forge;
        this.record = record;
        this.spans = List.copyOf(spans);
        this.fit = fit;
        this.chamberFlutter = chamberFlutter;
        this.gasFlutter = gasFlutter;
    }

    /** The burn's id. */
    public String burnId() {
        return burnId;
    }

    /** When it was lit. */
    public WallTime start() {
        return start;
    }

    /** The forge with the jet that was in when it was lit. */
    public ForgeDescription forge() {
        return forge;
    }

    BurnRecord record() {
        return record;
    }

    List<Span> spans() {
        return spans;
    }

    @Nullable
    KnownForge fit() {
        return fit;
    }

    FlutterWindows chamberFlutter() {
        return chamberFlutter;
    }

    FlutterWindows gasFlutter() {
        return gasFlutter;
    }
}
