package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.SeriesArchive.SeriesPoint;
import org.jspecify.annotations.Nullable;

/**
 * All that a report of a burn is made of.
 *
 * @param burn as the store has it; its gas is NaN when nothing tells it
 * @param face its forge
 * @param until end of what the report covers
 * @param fit JSON of the fit; null when there is none
 * @param noFit why there is none and what to do, a sentence; empty when there is one
 * @param chamber °C, thinned to a chart's width
 * @param gas Pa gauge, thinned likewise
 * @param shell °C, thinned likewise
 * @param inForce the latest setting of each name before the burn
 * @param settings made during it
 * @param notes written during it
 * @param alarms steps of alarms during it, the first {@link #MOST_ALARMS}
 * @param furtherAlarms how many steps came after these
 * @param weighed gas by the cylinder's mass
 */
record BurnFile(
        Burn burn,
        ForgeFace face,
        WallTime until,
        @Nullable JsonNode fit,
        String noFit,
        List<SeriesPoint> chamber,
        List<SeriesPoint> gas,
        List<SeriesPoint> shell,
        List<Setting> inForce,
        List<Setting> settings,
        List<Note> notes,
        List<AlarmTransition> alarms,
        int furtherAlarms,
        Weighed weighed) {
    /** Steps of alarms that are printed: three sheets; a burn with more has another trouble than its report. */
    static final int MOST_ALARMS = 150;
    /** Points of a thinned series: about twice what a printer shows of it on a sheet. */
    static final int POINTS = 600;

    /**
     * Gas by the cylinder's mass.
     *
     * @param kg NaN when it was not weighed before and after
     * @param standardUncertaintyKg NaN likewise
     */
    record Weighed(double kg, double standardUncertaintyKg) {}

    /** Whether the fit came to rest. */
    boolean isFitted() {
        return fit != null && fit.path("converged").asBoolean();
    }

    /** The fit, which must be there. */
    JsonNode fitted() {
        JsonNode there = fit;
        if (there == null) {
            throw new IllegalStateException("burn " + burn.id() + " has no fit");
        }
        return there;
    }

    /** From gas on to the end of what is covered, s. */
    double lengthS() {
        return until.secondsSince(burn.start());
    }
}
