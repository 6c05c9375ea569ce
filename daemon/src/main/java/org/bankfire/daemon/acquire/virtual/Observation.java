package org.bankfire.daemon.acquire.virtual;

/**
 * What the sensors of the virtual forge report at one moment.
 *
 * @param chamberC chamber probe, °C, in steps of its converter; NaN while its thermocouple is broken
 * @param gasPa gauge pressure between regulator and jet, Pa, in steps of its converter
 * @param shellC outside of the frame, °C, in steps of 0.25
 * @param ambientC air around the forge, °C, in steps of 0.25
 * @param cylinderKg cylinder with its contents, kg, in steps of 0.005
 */
public record Observation(double chamberC, double gasPa, double shellC, double ambientC, double cylinderKg) {}
