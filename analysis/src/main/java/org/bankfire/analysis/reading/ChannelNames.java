package org.bankfire.analysis.reading;

/** Record names that mean something to Bankfire; any other name is stored as a channel of its own. */
public final class ChannelNames {
    /** Chamber temperature, °C. */
    public static final String CHAMBER = "chamber";
    /** Temperature of the outside of the frame, °C. */
    public static final String SHELL = "shell";
    /** Air around the forge, °C. */
    public static final String AMBIENT = "ambient";
    /** Gas ahead of the jet, °C. */
    public static final String GAS_TEMPERATURE = "gas-temperature";
    /** The steel in the chamber, °C. */
    public static final String STOCK = "stock";
    /** Reference junction of the thermocouple amplifier, °C. */
    public static final String COLD_JUNCTION = "cold-junction";
    /** Gas pressure between regulator and jet, Pa gauge. */
    public static final String GAS = "gas";
    /** Mass of the cylinder on its scale, kg. */
    public static final String CYLINDER = "cylinder";
    /** Flame witness, 0 (dark) to 1 (burning). */
    public static final String FLAME = "flame";
    /** Running number of the source's lines, without unit. */
    public static final String SEQUENCE = "seq";

    /** What follows a temperature's name when the source reports raw thermocouple voltage. */
    public static final String EMF_SUFFIX = "-emf";
    /** What follows a temperature's name when a straight-line amplifier reports it. */
    public static final String LINEAR_SUFFIX = "-linear";
    /** What follows {@code gas} when the source reports the transducer's voltage. */
    public static final String VOLTS_SUFFIX = "-volts";
    /** What follows {@code gas} when the source reports the transducer's voltage over its supply. */
    public static final String RATIO_SUFFIX = "-ratio";
    /** What follows a channel's name when it is kept as it arrived beside its calibrated value. */
    public static final String RAW_SUFFIX = "-raw";
    /** What follows a channel's name when its source reports a fault as text. */
    public static final String FAULT_SUFFIX = "-fault";

    private ChannelNames() {}
}
