package org.bankfire.daemon.figures;

import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.VirtualForge;

/**
 * What four sensors of a virtual forge say, step by step, written ready for a SenML pack: {@code chamber}, {@code gas},
 * {@code shell} and {@code ambient}. Made beforehand, so that who sends them costs next to nothing.
 */
final class ForgeValues {
    /** Channels of each frame. */
    static final int CHANNELS = 4;

    private static final double FORGING_C = 1_050;

    private final byte[][] tails;
    private final double[] chamberC;

    private ForgeValues(int steps) {
        tails = new byte[steps][];
        chamberC = new double[steps];
    }

    /** A forge that burns at working pressure, from the moment of its lighting with a hot lining. */
    static ForgeValues burning(long seed, int steps, double rateHz) {
        VirtualForge forge = new VirtualForge(seed);
        forge.startAt(FORGING_C);
        forge.setPressure(VirtualForge.WORK_PA);
        forge.openGas();
        forge.light();
        ForgeValues values = new ForgeValues(steps);
        for (int i = 0; i < steps; i++) {
            forge.step(1 / rateHz);
            values.put(i, forge.observe());
        }
        return values;
    }

    /** A day with two burns of two hours, cold in between. */
    static ForgeValues day(long seed, double rateHz) {
        VirtualForge forge = new VirtualForge(seed);
        int hour = (int) Math.round(3_600 * rateHz);
        ForgeValues values = new ForgeValues(24 * hour);
        for (int i = 0; i < values.steps(); i++) {
            int inBurn = (i - 9 * hour) % (6 * hour);
            if (i == 9 * hour || i == 15 * hour) {
                forge.changeCylinder();
                forge.setPressure(VirtualForge.LIGHTING_PA);
                forge.openGas();
                forge.light();
            } else if (i > 9 * hour && i < 21 * hour) {
                hand(forge, inBurn, hour);
            }
            forge.step(1 / rateHz);
            values.put(i, forge.observe());
        }
        return values;
    }

    private static void hand(VirtualForge forge, int inBurn, int hour) {
        if (inBurn == hour / 60) {
            forge.setPressure(VirtualForge.FULL_PA);
        } else if (inBurn == 3 * hour / 4) {
            forge.setPressure(VirtualForge.WORK_PA);
        } else if (inBurn == 3 * hour / 2) {
            forge.setPressure(VirtualForge.IDLE_PA);
        } else if (inBurn == 2 * hour) {
            forge.closeGas();
        }
    }

    private void put(int step, Observation seen) {
        chamberC[step] = seen.chamberC();
        tails[step] = String.format(
                        Locale.ROOT,
                        "\"n\":\"chamber\",\"u\":\"Cel\",\"v\":%.2f},{\"n\":\"gas\",\"u\":\"Pa\",\"v\":%.0f},"
                                + "{\"n\":\"shell\",\"u\":\"Cel\",\"v\":%.2f},"
                                + "{\"n\":\"ambient\",\"u\":\"Cel\",\"v\":%.2f}]",
                        seen.chamberC(),
                        seen.gasPa(),
                        seen.shellC(),
                        seen.ambientC())
                .getBytes(StandardCharsets.US_ASCII);
    }

    int steps() {
        return tails.length;
    }

    double chamberC(int step) {
        return chamberC[step];
    }

    /** From the first record's name to the end of the pack; not to be changed. */
    byte[] tail(int step) {
        return tails[step];
    }
}
