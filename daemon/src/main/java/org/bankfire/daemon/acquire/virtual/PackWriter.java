package org.bankfire.daemon.acquire.virtual;

import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.reading.ChannelNames;

/** Writes what the virtual forge's sensors say as SenML JSON (RFC 8428), one pack per observation. */
public final class PackWriter {
    private final String forge;

    /**
     * A writer for one forge.
     *
     * @param forge the forge's id, as {@link org.bankfire.analysis.reading.Channel} allows it
     */
    public PackWriter(String forge) {
        this.forge = forge;
    }

    /**
     * One pack: {@code seq}, {@code chamber} or its fault, {@code gas}, {@code shell}, {@code ambient}, {@code cylinder}.
     *
     * @param sequence running number, 0 or more
     * @param epochSeconds when it was observed; NaN writes no time, which is the time of receipt
     */
    public byte[] write(Observation observation, long sequence, double epochSeconds) {
        return end(measured(observation, sequence, epochSeconds), observation);
    }

    /**
     * The same with what hands did just before.
     *
     * @param hands record names and texts, such as {@code plug} and {@code out}
     */
    public byte[] write(Observation observation, long sequence, double epochSeconds, Map<String, String> hands) {
        StringBuilder pack = measured(observation, sequence, epochSeconds);
        hands.forEach((name, text) -> text(pack, name, text));
        return end(pack, observation);
    }

    private StringBuilder measured(Observation observation, long sequence, double epochSeconds) {
        StringBuilder pack = begin(sequence, epochSeconds);
        if (Double.isNaN(observation.chamberC())) {
            fault(pack, ChannelNames.CHAMBER, "open");
        } else {
            value(pack, ChannelNames.CHAMBER, "Cel", observation.chamberC());
        }
        return pack;
    }

    /** Base fields and the running number; more records follow by {@link #value} and {@link #fault}. */
    public StringBuilder begin(long sequence, double epochSeconds) {
        StringBuilder pack = new StringBuilder(320);
        pack.append("[{\"bn\":\"").append(forge).append(":\",");
        if (!Double.isNaN(epochSeconds)) {
            pack.append("\"bt\":")
                    .append(String.format(Locale.ROOT, "%.3f", epochSeconds))
                    .append(',');
        }
        pack.append("\"n\":\"")
                .append(ChannelNames.SEQUENCE)
                .append("\",\"v\":")
                .append(sequence);
        return pack.append('}');
    }

    /** Adds a value; {@code unit} in SenML's symbols. */
    public void value(StringBuilder pack, String name, String unit, double value) {
        pack.append(",{\"n\":\"")
                .append(name)
                .append("\",\"u\":\"")
                .append(unit)
                .append("\",\"v\":");
        // Steps such as 0.005 are not exact in binary; ten thousandths hold every step of the sensors.
        long tenThousandths = Math.round(value * 10_000);
        if (tenThousandths % 10_000 == 0) {
            pack.append(tenThousandths / 10_000);
        } else {
            pack.append(tenThousandths / 10_000.0);
        }
        pack.append('}');
    }

    /** Adds a fault of the channel {@code name}. */
    public void fault(StringBuilder pack, String name, String fault) {
        text(pack, name + ChannelNames.FAULT_SUFFIX, fault);
    }

    private static void text(StringBuilder pack, String name, String text) {
        pack.append(",{\"n\":\"")
                .append(name)
                .append("\",\"vs\":\"")
                .append(text)
                .append("\"}");
    }

    /** Adds everything but the chamber and closes the pack. */
    public byte[] end(StringBuilder pack, Observation observation) {
        value(pack, ChannelNames.GAS, "Pa", observation.gasPa());
        value(pack, ChannelNames.SHELL, "Cel", observation.shellC());
        value(pack, ChannelNames.AMBIENT, "Cel", observation.ambientC());
        value(pack, ChannelNames.CYLINDER, "kg", observation.cylinderKg());
        return pack.append(']').toString().getBytes(StandardCharsets.UTF_8);
    }
}
