package org.bankfire.analysis.correction;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiPredicate;
import org.bankfire.analysis.correction.ThermocoupleCalibration.Amplifier;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.jspecify.annotations.Nullable;

/**
 * The measurement chain of one forge: raw readings in, everything to store out.
 *
 * <ul>
 *   <li>{@code X-emf}, {@code X-linear}, {@code gas-volts}, {@code gas-ratio} stay as they came and give {@code X}.
 *   <li>Temperatures come out in °C, pressures in Pa gauge, masses in kg, {@code flame} as a ratio.
 *   <li>Where more than the unit of a plain {@code X} changes, it is kept as it came under {@code X-raw}.
 *   <li>A fault, the source's own or one found here, is an {@code X} of bad quality without a value.
 *   <li>Whatever has no meaning here passes unchanged.
 * </ul>
 *
 * <p>In a frame that reports one channel in several forms at one time, a fault of {@code X} decides, then the rawest form;
 * a plain {@code X} beside them is kept as {@code X-raw}, where that is not there already. So a recording of corrected and raw readings corrects to itself.
 *
 * <p>It remembers cold junctions, captured zeros and what its plausibility tests need. Time is that of the readings. Not
 * for more than one thread.
 */
public final class CorrectionChain {
    /**
     * Distinct record names that are remembered: ten times what a well-instrumented forge has. Names come from outside,
     * so there must be an end to them; names beyond it are corrected without plausibility tests.
     */
    private static final int MAX_NAMES = 512;

    /** Where readings of one record name go: the channel and in which form they speak of it. */
    private record Route(CorrectedChannel target, RawKind kind) {}

    private final String forge;
    private final CorrectionSettings settings;
    private final Map<String, Calibrations> calibrations = new HashMap<>();
    private final Map<String, CorrectedChannel> channels = new HashMap<>();
    private final Map<String, Route> routes = new HashMap<>();
    private final ColdJunctions coldJunctions;
    // Of the frame in hand, by position; kept to spare the allocation.
    private final List<@Nullable Route> frameRoutes = new ArrayList<>();

    /** A chain with the usual plausibility limits. */
    public CorrectionChain(String forge, List<ChannelCalibration> calibrations) {
        this(forge, calibrations, CorrectionSettings.defaults());
    }

    /**
     * A chain.
     *
     * @param forge the forge's id
     * @param calibrations at most one sensor and one line through two points for each channel
     * @param settings what to take for implausible
     */
    public CorrectionChain(String forge, List<ChannelCalibration> calibrations, CorrectionSettings settings) {
        this.forge = forge;
        this.settings = settings;
        this.coldJunctions = new ColdJunctions(settings.coldJunctionMaxAgeS());
        for (ChannelCalibration each : calibrations) {
            this.calibrations.merge(each.channel(), Calibrations.NONE.with(each), (sum, one) -> sum.with(each));
        }
        // Wrong names fail here, not at the first reading; and what matters is never crowded out by MAX_NAMES.
        this.calibrations.keySet().forEach(this::channel);
        CorrectedChannel.KNOWN.forEach(this::channel);
    }

    /**
     * Corrects one frame.
     *
     * @param frame raw readings of this forge that came together, in any order
     * @return all readings to store, in the order of the frame, each corrected reading after its raw one
     * @throws IllegalArgumentException when a reading belongs to another forge
     */
    public List<Reading> correct(List<Reading> frame) {
        coldJunctions.nextFrame();
        frameRoutes.clear();
        boolean hasColdJunction = false;
        for (Reading raw : frame) {
            Route route = route(raw.channel());
            frameRoutes.add(route);
            hasColdJunction |= route != null && route.target.isColdJunction();
        }
        if (hasColdJunction) {
            takeColdJunctions(frame);
        }
        List<Reading> all = new ArrayList<>(2 * frame.size());
        int coldJunctionsSeen = 0;
        for (int i = 0; i < frame.size(); i++) {
            Reading raw = frame.get(i);
            Route route = frameRoutes.get(i);
            if (route == null) {
                all.add(raw);
            } else if (givesWay(i, route, frame)) {
                addUncorrected(i, route, frame, all);
            } else if (route.target.isColdJunction()) {
                addCorrected(raw, route, coldJunctions.get(coldJunctionsSeen++), all);
            } else {
                addCorrected(raw, route, estimate(raw, route, coldJunctionFor(raw, route)), all);
            }
        }
        return all;
    }

    /**
     * Takes the mean of recent outputs of a pressure transducer as its zero. Nothing changes yet: see {@link #setZero}.
     *
     * @param channel the pressure, such as {@code gas}
     * @param recentRaw its raw readings with the hose off, of the last few seconds; others are passed over, and where
     *     several forms are there, the rawest counts
     */
    public ZeroCapture captureZero(String channel, List<Reading> recentRaw) {
        PressureCorrection pressure = pressure(channel);
        if (pressure == null) {
            return new ZeroCapture.Refused(
                    channel,
                    ZeroCapture.Reason.NOT_A_PRESSURE,
                    channel + " is not a pressure that the configuration of " + forge + " knows");
        }
        RawKind rawest = RawKind.PLAIN;
        for (Reading raw : recentRaw) {
            RawKind kind = formOf(raw, channel);
            if (kind != null && kind.compareTo(rawest) < 0) {
                rawest = kind;
            }
        }
        ZeroMeasurement outputs = new ZeroMeasurement();
        for (Reading raw : recentRaw) {
            if (!raw.quality().isBad() && formOf(raw, channel) == rawest) {
                outputs.add(pressure.output(raw.value(), raw.unit()));
            }
        }
        return outputs.judge(channel, pressure);
    }

    /**
     * Puts a zero into force, for this and all later frames.
     *
     * @param channel the pressure
     * @param zero output with the hose off, in the unit of its capture
     * @param standardUncertainty of the zero, in that unit; NaN when not known
     * @throws IllegalArgumentException when {@code channel} is no pressure or the zero no number
     */
    public void setZero(String channel, double zero, double standardUncertainty) {
        PressureCorrection pressure = pressure(channel);
        if (pressure == null) {
            throw new IllegalArgumentException(
                    "zero of " + forge + ":" + channel + ": not a pressure that the configuration knows");
        }
        if (!Double.isFinite(zero) || standardUncertainty < 0 || Double.isInfinite(standardUncertainty)) {
            throw new IllegalArgumentException("zero of " + forge + ":" + channel + " is " + zero + " ± "
                    + standardUncertainty + "; allowed are finite numbers");
        }
        pressure.setZero(zero, Double.isNaN(standardUncertainty) ? pressure.zeroStep() : standardUncertainty);
    }

    /** Puts a captured zero into force. */
    public void setZero(ZeroCapture.Captured captured) {
        setZero(captured.channel(), captured.zero(), captured.standardUncertainty());
    }

    /** Cold junctions come first, wherever they stand in the frame: the rest is corrected with them. */
    private void takeColdJunctions(List<Reading> frame) {
        for (int i = 0; i < frame.size(); i++) {
            Route route = frameRoutes.get(i);
            if (route != null && route.target.isColdJunction() && !givesWay(i, route, frame)) {
                Reading raw = frame.get(i);
                coldJunctions.add(estimate(raw, route, Double.NaN), raw.sourceTime());
            }
        }
    }

    private double coldJunctionFor(Reading raw, Route route) {
        return route.target.needsColdJunction(route.kind, raw.unit())
                ? coldJunctions.celsiusAt(raw.sourceTime())
                : Double.NaN;
    }

    private static Estimate estimate(Reading raw, Route route, double coldJunctionC) {
        return raw.quality().isBad()
                ? Estimate.fault(raw.quality())
                : route.target.estimate(raw, route.kind, coldJunctionC);
    }

    private static void addCorrected(Reading raw, Route route, Estimate estimate, List<Reading> all) {
        CorrectedChannel target = route.target;
        if (route.kind != RawKind.PLAIN) {
            all.add(raw);
            all.add(target.reading(raw, estimate));
        } else if (raw.quality().isBad()) {
            all.add(target.passed(raw));
        } else {
            if (target.isMoreThanAnotherUnit(raw, estimate)) {
                all.add(renamed(raw, target.rawChannel()));
            }
            all.add(target.reading(raw, estimate));
        }
    }

    /** Keeps a reading that gave way: as it came, a plain one as raw unless what it was made of is here already. */
    private void addUncorrected(int index, Route route, List<Reading> frame, List<Reading> all) {
        Reading raw = frame.get(index);
        if (route.kind != RawKind.PLAIN) {
            all.add(raw);
        } else if (!anyOther(index, frame, (one, its) -> its.kind == RawKind.RAW)) {
            all.add(renamed(raw, route.target.rawChannel()));
        }
    }

    private static Reading renamed(Reading raw, Channel channel) {
        return new Reading(
                channel,
                raw.value(),
                raw.unit(),
                raw.standardUncertainty(),
                raw.quality(),
                raw.sourceTime(),
                raw.receiptTime());
    }

    /** Whether another reading of this frame says better what this one says. */
    private boolean givesWay(int index, Route route, List<Reading> frame) {
        Reading raw = frame.get(index);
        return anyOther(index, frame, (one, its) -> decidesOver(raw, route, one, its));
    }

    /** Whether any other reading of the same channel and time is such. Frames are short: a wire line at most. */
    private boolean anyOther(int index, List<Reading> frame, BiPredicate<Reading, Route> such) {
        Route route = frameRoutes.get(index);
        for (int i = 0; i < frame.size(); i++) {
            Route other = frameRoutes.get(i);
            if (i != index
                    && route != null
                    && other != null
                    && other.target == route.target
                    && frame.get(i).sourceTime().equals(frame.get(index).sourceTime())
                    && such.test(frame.get(i), other)) {
                return true;
            }
        }
        return false;
    }

    private static boolean decidesOver(Reading raw, Route route, Reading better, Route betterRoute) {
        if (isFault(raw, route)) {
            return false;
        }
        return isFault(better, betterRoute) || betterRoute.kind.compareTo(route.kind) < 0;
    }

    private static boolean isFault(Reading raw, Route route) {
        return route.kind == RawKind.PLAIN && raw.quality().isBad();
    }

    private @Nullable PressureCorrection pressure(String channelName) {
        return CorrectedChannel.isKnown(channelName) || calibrations.containsKey(channelName)
                ? channel(channelName).pressure()
                : null;
    }

    private @Nullable RawKind formOf(Reading raw, String channelName) {
        Route route = route(raw.channel());
        return route != null && route.target.channel().name().equals(channelName) ? route.kind : null;
    }

    private @Nullable Route route(Channel channel) {
        if (!channel.forge().equals(forge)) {
            throw new IllegalArgumentException("reading of " + channel + " given to the chain of forge " + forge);
        }
        Route known = routes.get(channel.name());
        if (known != null) {
            return known;
        }
        Route route = findRoute(channel.name());
        if (route != null && routes.size() < MAX_NAMES) {
            routes.put(channel.name(), route);
        }
        return route;
    }

    private @Nullable Route findRoute(String recordName) {
        RawKind kind = RawKind.of(recordName);
        String name = kind.channelName(recordName);
        Calibrations known = calibrations.getOrDefault(name, Calibrations.NONE);
        boolean ours = switch (kind) {
            case EMF, LINEAR ->
                known.pressure() == null && !name.equals(ChannelNames.GAS) && !name.equals(ChannelNames.COLD_JUNCTION);
            case VOLTS -> name.equals(ChannelNames.GAS) || known.pressure() != null || isAnalogue(known);
            case RATIO -> name.equals(ChannelNames.GAS) || known.pressure() != null;
            case RAW, PLAIN -> CorrectedChannel.isKnown(name) || calibrations.containsKey(name);
        };
        return ours ? new Route(channel(name), kind) : null;
    }

    private static boolean isAnalogue(Calibrations known) {
        ThermocoupleCalibration thermocouple = known.thermocouple();
        return thermocouple != null && thermocouple.amplifier() == Amplifier.ANALOGUE;
    }

    private CorrectedChannel channel(String name) {
        CorrectedChannel known = channels.get(name);
        if (known != null) {
            return known;
        }
        CorrectedChannel made = new CorrectedChannel(
                new Channel(forge, name), calibrations.getOrDefault(name, Calibrations.NONE), settings);
        if (channels.size() < MAX_NAMES) {
            channels.put(name, made);
        }
        return made;
    }
}
