package org.bankfire.daemon.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.virtual.Observation;

/** Makes packs of what the virtual sensors say, with the faults of sensors and line. */
final class Feed {
    private static final double S_PER_H = 3_600;
    private static final double LONGEST_GAP_S = 4;

    private final FaultPlan plan;
    private final double rateHz;
    private final WallTime begin;
    private final SplittableRandom random;
    private final Channel chamber;
    private final Channel gas;
    private final Channel shell;
    private final Channel ambient;
    private final Channel sequence;
    private long number;
    private double gapUntilS;
    private double lastStampS = Double.NEGATIVE_INFINITY;
    private double lastChamberC = Double.NaN;
    private double lastGasPa = Double.NaN;

    Feed(String forge, FaultPlan plan, double rateHz, WallTime begin) {
        this.plan = plan;
        this.rateHz = rateHz;
        this.begin = begin;
        random = new SplittableRandom(plan.seed());
        chamber = new Channel(forge, ChannelNames.CHAMBER);
        gas = new Channel(forge, ChannelNames.GAS);
        shell = new Channel(forge, ChannelNames.SHELL);
        ambient = new Channel(forge, ChannelNames.AMBIENT);
        sequence = new Channel(forge, ChannelNames.SEQUENCE);
    }

    /** Seconds to the next reading. */
    double intervalS() {
        return (1 + plan.jitter() * (2 * random.nextDouble() - 1)) / rateHz;
    }

    /** The pack of a moment; empty in a gap. */
    Pack pack(double timeS, Observation seen) {
        if (happens(plan.gapsPerH())) {
            gapUntilS = timeS + 1 + (LONGEST_GAP_S - 1) * random.nextDouble();
        }
        number++;
        lastChamberC = Double.NaN;
        lastGasPa = Double.NaN;
        if (timeS < gapUntilS) {
            return new Pack(List.of(), List.of(), List.of());
        }
        double heardS = Math.max(lastStampS + 1e-3, timeS + plan.latencyS() * random.nextDouble());
        lastStampS = heardS;
        WallTime receipt = begin.plusSeconds(heardS);
        WallTime source = plan.stampedAtReceipt() ? receipt : begin.plusSeconds(timeS);
        List<Reading> readings = new ArrayList<>(5);
        readings.add(Reading.good(sequence, (double) number, Unit.NONE, source, receipt));
        readings.add(chamber(timeS, seen.chamberC(), source, receipt));
        readings.add(gas(timeS, seen.gasPa(), source, receipt));
        readings.add(Reading.good(shell, seen.shellC(), Unit.CELSIUS, source, receipt));
        readings.add(Reading.good(ambient, seen.ambientC(), Unit.CELSIUS, source, receipt));
        return new Pack(readings, List.of(), List.of());
    }

    private Reading chamber(double timeS, double celsius, WallTime source, WallTime receipt) {
        if (happens(plan.dropoutsPerH())) {
            return Reading.fault(chamber, Unit.CELSIUS, Quality.OPEN, source, receipt);
        }
        double read = celsius + plan.chamberDriftKPerH() * timeS / S_PER_H;
        if (happens(plan.spikesPerH())) {
            read += (random.nextBoolean() ? 1 : -1) * (20 + 400 * random.nextDouble());
        }
        lastChamberC = read;
        return Reading.good(chamber, read, Unit.CELSIUS, source, receipt);
    }

    private Reading gas(double timeS, double pascal, WallTime source, WallTime receipt) {
        if (happens(plan.dropoutsPerH())) {
            return Reading.fault(gas, Unit.PASCAL, Quality.FAULT, source, receipt);
        }
        double read = pascal + plan.pressureOffsetPa() + plan.pressureDriftPaPerH() * timeS / S_PER_H;
        if (happens(plan.spikesPerH())) {
            read *= 2.5 * random.nextDouble();
        }
        lastGasPa = read;
        return Reading.good(gas, read, Unit.PASCAL, source, receipt);
    }

    private boolean happens(double perH) {
        return random.nextDouble() < perH / S_PER_H / rateHz;
    }

    /** What the last pack said of the chamber, °C; NaN when nothing. */
    double lastChamberC() {
        return lastChamberC;
    }

    /** What the last pack said of the gas, Pa; NaN when nothing. */
    double lastGasPa() {
        return lastGasPa;
    }
}
