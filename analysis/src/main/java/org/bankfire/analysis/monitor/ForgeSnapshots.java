package org.bankfire.analysis.monitor;

import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.steady.Steadiness;

/**
 * Puts together what is known of a forge now. What rests on a sensor that is bad, stale or silent is not known, whatever
 * it said last; the last readings themselves are shown with their quality.
 */
final class ForgeSnapshots {
    private ForgeSnapshots() {}

    static ForgeSnapshot of(MonitorParts parts) {
        Reading chamber = parts.channels.chamber.last;
        Reading pressure = parts.channels.pressure.last;
        boolean chamberGood = parts.channels.chamber.isUsable() && !parts.silence.isSilent();
        boolean gasGood = parts.channels.pressure.isUsable() && !parts.silence.isSilent();
        double flow = gasGood ? parts.gas.flowKgPerS() : Double.NaN;
        FlameState flame = parts.fire.state(
                gasGood && !parts.sensors.isPressureBad(), chamberGood && !parts.sensors.isChamberBad());
        return new ForgeSnapshot(
                parts.forge,
                parts.silence.heardAnything() ? parts.clock.wall(parts.clock.now()) : null,
                parts.burns.tracker().phase(),
                flame,
                flame == FlameState.BURNING ? parts.fire.outProbability() : Double.NaN,
                chamber,
                chamberGood ? parts.trend.rateKPerMin() : Double.NaN,
                chamberGood ? parts.trend.standardErrorKPerMin() : Double.NaN,
                chamberGood ? parts.burns.tracker().steadiness(parts.clock.now()) : Steadiness.UNKNOWN,
                pressure,
                flow,
                gasGood && pressure != null ? parts.gas.relativeUncertainty(pressure) : Double.NaN,
                parts.heat.inputW(flow, flame),
                chamberGood ? parts.heat.openingsW(chamber) : Double.NaN,
                parts.burns.burn(),
                parts.conditions.snapshot(),
                parts.alarms.standing(),
                parts.channels.latest());
    }
}
