package org.bankfire.daemon.acquire.virtual;

import java.util.Random;

/** The virtual forge's sensors: noise, slow drift and the steps of their converters. */
final class Instruments {
    /** Keeps the sensors' noise apart from the flame's flutter, so that reading more often changes no burn. */
    private static final long SEED_SALT = 0x5EED_CAFEL;

    private static final double SHELL_STEP_C = 0.25;
    private static final double MASS_STEP_KG = 0.005;

    private final ForgeTraits.Noise noise;
    private final Random random;
    private double elapsedS;
    private boolean broken;

    Instruments(ForgeTraits.Noise noise, long seed) {
        this.noise = noise;
        random = new Random(seed ^ SEED_SALT);
    }

    void advance(double dtS) {
        elapsedS += dtS;
    }

    void breakThermocouple() {
        broken = true;
    }

    void mendThermocouple() {
        broken = false;
    }

    Observation read(double probeC, double gasPa, double shellC, double roomC, double cylinderKg) {
        // Half an hour of a door opened and shut.
        double room = roomC + 0.4 * Math.sin(2 * Math.PI * elapsedS / 1_800);
        double chamber = stepped(noisy(probeC, noise.chamberK()), noise.chamberStepK());
        return new Observation(
                broken ? Double.NaN : chamber,
                stepped(noisy(gasPa, noise.pressurePa() + noise.pressureShare() * gasPa), noise.pressureStepPa()),
                stepped(noisy(shellC, noise.shellK()), SHELL_STEP_C),
                stepped(noisy(room, 0.6 * noise.shellK()), SHELL_STEP_C),
                stepped(noisy(cylinderKg, 0.002), MASS_STEP_KG));
    }

    private double noisy(double value, double sigma) {
        return value + sigma * random.nextGaussian();
    }

    private static double stepped(double value, double step) {
        return Math.rint(value / step) * step;
    }
}
