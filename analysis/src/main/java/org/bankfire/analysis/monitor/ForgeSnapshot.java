package org.bankfire.analysis.monitor;

import java.util.List;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.steady.Steadiness;
import org.jspecify.annotations.Nullable;

/**
 * Everything known of one forge at one moment, immutable. NaN stands for what is not known.
 *
 * @param forge the forge's id
 * @param time event time that the snapshot speaks of; null before the first reading
 * @param phase what the forge is doing
 * @param flame what can be said of the flame
 * @param flameOutProbability how likely the flame is out by the fall as it is now, 0 to 1, while it is taken to burn
 * @param chamber latest chamber reading, good or bad; null before the first
 * @param chamberRateKPerMin slope of the chamber temperature, K/min
 * @param chamberRateStandardErrorKPerMin of that slope, K/min
 * @param steadiness whether the chamber holds its temperature
 * @param gas latest gas pressure reading, good or bad; null before the first
 * @param gasFlowKgPerS through the jet, kg/s
 * @param gasFlowRelativeUncertainty standard uncertainty of the flow over the flow, 1
 * @param heatInputW flow × lower heating value, W; 0 while the flame is out, since unburnt gas brings no heat
 * @param openingsW radiated out of the openings at this chamber temperature, W
 * @param burn the burn in progress, or the last one; null before the first
 * @param conditions how the slower conditions stand
 * @param alarms alarms that are not in normal state, the gravest first
 * @param latest the latest reading of every channel, by channel name
 */
public record ForgeSnapshot(
        String forge,
        @Nullable WallTime time,
        BurnPhase phase,
        FlameState flame,
        double flameOutProbability,
        @Nullable Reading chamber,
        double chamberRateKPerMin,
        double chamberRateStandardErrorKPerMin,
        Steadiness steadiness,
        @Nullable Reading gas,
        double gasFlowKgPerS,
        double gasFlowRelativeUncertainty,
        double heatInputW,
        double openingsW,
        @Nullable Burn burn,
        ForgeConditions conditions,
        List<AlarmStatus> alarms,
        List<Reading> latest) {
    public ForgeSnapshot {
        alarms = List.copyOf(alarms);
        latest = List.copyOf(latest);
    }

    /** A snapshot of a forge of whose flame no doubt, and of whose steadiness and slower conditions nothing is known. */
    public ForgeSnapshot(
            String forge,
            @Nullable WallTime time,
            BurnPhase phase,
            FlameState flame,
            @Nullable Reading chamber,
            double chamberRateKPerMin,
            double chamberRateStandardErrorKPerMin,
            @Nullable Reading gas,
            double gasFlowKgPerS,
            double gasFlowRelativeUncertainty,
            double heatInputW,
            double openingsW,
            @Nullable Burn burn,
            List<AlarmStatus> alarms,
            List<Reading> latest) {
        this(
                forge,
                time,
                phase,
                flame,
                Double.NaN,
                chamber,
                chamberRateKPerMin,
                chamberRateStandardErrorKPerMin,
                Steadiness.UNKNOWN,
                gas,
                gasFlowKgPerS,
                gasFlowRelativeUncertainty,
                heatInputW,
                openingsW,
                burn,
                ForgeConditions.UNKNOWN,
                alarms,
                latest);
    }
}
