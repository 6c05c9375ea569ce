package org.bankfire.daemon.fitting;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/**
 * The latest good readings of a few channels, by column: 33 bytes each instead of some 90, for a thousand forges hold them.
 * What is given back equals what was taken. Used by one thread.
 */
final class RecentReadings {
    /** Of a few channels in a unit each; a source that changes units without end is not followed any further. */
    private static final int MOST_KINDS = 64;

    private static final int FIRST_CAPACITY = 64;

    /** What many readings have in common. */
    private record Kind(Channel channel, Unit unit) {}

    private final List<Kind> kinds = new ArrayList<>();
    private byte[] kind = new byte[FIRST_CAPACITY];
    private double[] value = new double[FIRST_CAPACITY];
    private double[] uncertainty = new double[FIRST_CAPACITY];
    private long[] sourceUs = new long[FIRST_CAPACITY];
    private long[] receiptUs = new long[FIRST_CAPACITY];
    private int oldest;
    private int size;

    int size() {
        return size;
    }

    /** Takes a reading behind the others, and lets go of the oldest beyond {@code most}; one that is not good is passed over. */
    void add(Reading reading, int most) {
        if (reading.quality() != Quality.GOOD) {
            return;
        }
        int its = kindOf(reading);
        if (its < 0) {
            return;
        }
        keep(most - 1);
        if (size == value.length) {
            resize(2 * size);
        }
        int at = place(size);
        kind[at] = (byte) its;
        value[at] = reading.value();
        uncertainty[at] = reading.standardUncertainty();
        sourceUs[at] = reading.sourceTime().epochMicros();
        receiptUs[at] = reading.receiptTime().epochMicros();
        size++;
    }

    /** Lets go of all but the newest {@code most}, and of the room that they no longer need. */
    private void keep(int most) {
        if (size > most) {
            oldest = place(size - most);
            size = most;
        }
        if (value.length > FIRST_CAPACITY && size < value.length / 4) {
            resize(value.length / 2);
        }
    }

    /** All of them, the oldest first. */
    void forEach(Consumer<Reading> sink) {
        for (int i = 0; i < size; i++) {
            int at = place(i);
            Kind its = kinds.get(kind[at]);
            sink.accept(new Reading(
                    its.channel,
                    value[at],
                    its.unit,
                    uncertainty[at],
                    Quality.GOOD,
                    new WallTime(sourceUs[at]),
                    new WallTime(receiptUs[at])));
        }
    }

    private int kindOf(Reading reading) {
        for (int i = 0; i < kinds.size(); i++) {
            Kind known = kinds.get(i);
            if (known.channel.equals(reading.channel()) && known.unit.equals(reading.unit())) {
                return i;
            }
        }
        if (kinds.size() == MOST_KINDS) {
            return -1;
        }
        kinds.add(new Kind(reading.channel(), reading.unit()));
        return kinds.size() - 1;
    }

    /** Capacities are powers of two. */
    private int place(int index) {
        return (oldest + index) & (value.length - 1);
    }

    private void resize(int capacity) {
        int[] places = new int[size];
        Arrays.setAll(places, this::place);
        byte[] kinds = new byte[capacity];
        double[] values = new double[capacity];
        double[] uncertainties = new double[capacity];
        long[] sources = new long[capacity];
        long[] receipts = new long[capacity];
        for (int i = 0; i < size; i++) {
            kinds[i] = kind[places[i]];
            values[i] = value[places[i]];
            uncertainties[i] = uncertainty[places[i]];
            sources[i] = sourceUs[places[i]];
            receipts[i] = receiptUs[places[i]];
        }
        kind = kinds;
        value = values;
        uncertainty = uncertainties;
        sourceUs = sources;
        receiptUs = receipts;
        oldest = 0;
    }
}
