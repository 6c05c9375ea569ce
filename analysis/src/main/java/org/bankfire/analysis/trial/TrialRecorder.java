package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.flutter.FlutterMeter;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Gathers what a trial needs of a burn beside its {@link BurnRecord}: settings as they change, and how unsteadily it burnt.
 * Times are seconds since the burn's start; those of one channel must rise, or its flutter begins anew. Not safe for use by
 * several threads.
 */
public final class TrialRecorder {
    /** Windows kept of each quantity: twelve hours of them, some 200 kB. Later ones are not looked at. */
    private static final int MOST_WINDOWS = 8_640;
    /** A hand sets a few things an hour; later changes of a longer list are not noted. */
    private static final int MOST_CHANGES = 500;

    private static final double MICROS_PER_S = 1e6;

    private final List<Change> changes = new ArrayList<>();
    private final Windows chamber = new Windows();
    private final Windows gas = new Windows();

    private record Change(double timeS, Setting setting) {}

    private static final class Windows {
        private final FlutterMeter meter = new FlutterMeter();
        private final List<Double> endsS = new ArrayList<>();
        private final List<Double> strengths = new ArrayList<>();

        void add(double timeS, double value) {
            if (meter.add(Math.round(timeS * MICROS_PER_S), value) && endsS.size() < MOST_WINDOWS) {
                endsS.add(timeS);
                strengths.add(meter.latest());
            }
        }

        FlutterWindows told() {
            return new FlutterWindows(endsS, strengths);
        }
    }

    /** A setting that came into force, before the burn too. */
    public void setting(double timeS, Setting setting) {
        if (TrialSettings.cuts(setting.name()) && changes.size() < MOST_CHANGES) {
            changes.add(new Change(timeS, setting));
        }
    }

    /** A good chamber temperature, K. */
    public void chamber(double timeS, double kelvin) {
        chamber.add(timeS, kelvin);
    }

    /** A good gas pressure, Pa gauge. */
    public void gas(double timeS, double gaugePa) {
        gas.add(timeS, gaugePa);
    }

    /**
     * The burn as trials see it.
     *
     * @param forge as described, with the jet that was in
     * @param fit what the burn's fit has told of the forge; null without a fit
     */
    public TrialBurn burn(
            String burnId, WallTime start, ForgeDescription forge, BurnRecord record, @Nullable KnownForge fit) {
        return new TrialBurn(burnId, start, forge, record, spans(record.endS()), fit, chamber.told(), gas.told());
    }

    private List<TrialBurn.Span> spans(double endS) {
        List<Change> sorted = new ArrayList<>(changes);
        sorted.sort(Comparator.comparingDouble(Change::timeS));
        List<TrialBurn.Span> spans = new ArrayList<>();
        TrialSettings now = TrialSettings.NONE;
        double fromS = 0;
        for (Change change : sorted) {
            TrialSettings next = now.with(change.setting());
            if (change.timeS() > fromS && change.timeS() < endS && !next.equals(now)) {
                spans.add(new TrialBurn.Span(fromS, change.timeS(), now));
                fromS = change.timeS();
            }
            now = change.timeS() < endS ? next : now;
        }
        if (endS > fromS) {
            spans.add(new TrialBurn.Span(fromS, endS, now));
        }
        return spans;
    }
}
