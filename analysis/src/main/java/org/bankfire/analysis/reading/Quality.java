package org.bankfire.analysis.reading;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * How far a reading can be trusted, and if not, why. A fault is a reading of bad quality, never a missing one.
 *
 * <p>The codes are stored and exported; the fault codes {@code open short-ground short-supply range} are those of the
 * wire.
 */
public enum Quality {
    GOOD(Level.GOOD, "good", "good"),
    /** A value outside the part of the range where its uncertainty is known. */
    UNCERTAIN(Level.UNCERTAIN, "uncertain", "of uncertain quality"),
    /** The sensor jumped further than its probe can follow. */
    SPIKE(Level.BAD, "spike", "an implausible jump"),
    OPEN(Level.BAD, "open", "the circuit is open: check the thermocouple and its screws"),
    SHORT_TO_GROUND(Level.BAD, "short-ground", "shorted to ground"),
    SHORT_TO_SUPPLY(Level.BAD, "short-supply", "shorted to the supply"),
    RANGE(Level.BAD, "range", "outside the sensor's range"),
    COLD_JUNCTION(Level.BAD, "cold-junction", "its cold junction is missing or out of range"),
    STUCK(Level.BAD, "stuck", "stuck at one value"),
    NOT_A_NUMBER(Level.BAD, "not-a-number", "not a number"),
    UNIT(Level.BAD, "unit", "in a unit that this channel does not take"),
    UNCALIBRATED(Level.BAD, "uncalibrated", "not calibrated: the configuration does not say what its output means"),
    /** The source reported a fault in words that are not of the wire's vocabulary. */
    FAULT(Level.BAD, "fault", "faulty, as its source reports");

    /** The three grades that everything downstream acts on. */
    public enum Level {
        GOOD,
        UNCERTAIN,
        BAD
    }

    private static final Map<String, Quality> BY_CODE = new HashMap<>();

    static {
        for (Quality quality : values()) {
            BY_CODE.put(quality.code, quality);
        }
    }

    private final Level level;
    private final String code;
    private final String words;

    Quality(Level level, String code, String words) {
        this.level = level;
        this.code = code;
        this.words = words;
    }

    public Level level() {
        return level;
    }

    /** Short stable name for store, wire and export. */
    public String code() {
        return code;
    }

    /** The reason for the reader, to stand after "the chamber sensor is". */
    public String words() {
        return words;
    }

    public boolean isBad() {
        return level == Level.BAD;
    }

    public static Optional<Quality> ofCode(String code) {
        return Optional.ofNullable(BY_CODE.get(code));
    }
}
