package org.bankfire.daemon.acquire.frame;

import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.RecordNames.RecordName;

/** Resolves the records of one pack, in order (RFC 8428 sections 4.5 and 4.6), into readings, notes and settings. */
final class SenMlResolver {
    /** Times nearer to zero are relative to now (RFC 8428 section 4.5.3): 2^28 s. */
    static final long RELATIVE_BELOW_MICROS = (1L << 28) * 1_000_000L;
    /** What follows a channel's name for the sum of a record, in the record's unit times seconds. */
    static final String SUM_SUFFIX = "-sum";

    private static final double DEFAULT_VERSION = 10;
    /** Version 10 with the feature "secondary units" (RFC 9100, from memory), such as hPa and mV. */
    private static final double SECONDARY_UNITS_VERSION = 26;

    private static final String FAULT_NONE = "none";

    private final RecordNames names;
    private final WallTime now;
    private final boolean recorded;
    private final PackBuilder pack = new PackBuilder();

    private int records;
    private double version = DEFAULT_VERSION;
    private String baseName = "";
    private String baseUnit = "";
    private long baseTimeMicros;
    private double baseValue;
    private double baseSum;
    private boolean baseValueGiven;
    private boolean baseSumGiven;
    private WallTime lastTime;

    /**
     * For one pack.
     *
     * @param now what relative times are relative to
     * @param recorded refuses relative times, takes the labels of recorded burns
     */
    SenMlResolver(RecordNames names, WallTime now, boolean recorded) {
        this.names = names;
        this.now = now;
        this.recorded = recorded;
        this.lastTime = now;
    }

    Pack pack() {
        return pack.build();
    }

    void add(SenMlRecord record) throws BadFrameException {
        takeBase(record);
        int values = record.count(SenMlRecord.ANY_VALUE);
        if (values > 1) {
            throw new BadFrameException(
                    "field \"v\" is one of " + values + " values; allowed is exactly one of v, vs, vb and vd");
        }
        boolean hasSum = record.has(SenMlRecord.SUM);
        if (values == 0 && !hasSum) {
            if (!record.has(SenMlRecord.ANY_BASE)
                    || record.has(SenMlRecord.NAME | SenMlRecord.UNIT | SenMlRecord.TIME | SenMlRecord.UPDATE_TIME)) {
                throw new BadFrameException(
                        "field \"v\" is missing; allowed is exactly one of v, vs, vb and vd, or s, or base fields alone");
            }
            return;
        }
        RecordName name = names.of(baseName.isEmpty() ? record.name : baseName.concat(record.name));
        WallTime time = time(record);
        if (record.has(SenMlRecord.VALUE)) {
            addNumber(record, name, time, plausible("v", baseValueGiven ? baseValue + record.value : record.value));
        } else if (record.has(SenMlRecord.BOOLEAN)) {
            addBoolean(record, name, time);
        } else if (record.has(SenMlRecord.STRING)) {
            addText(record, name, time);
        } else if (record.has(SenMlRecord.DATA)) {
            addNote(name, time, record.data);
        }
        if (hasSum || baseSumGiven) {
            addSum(record, name, time, plausible("s", hasSum ? baseSum + record.sum : baseSum));
        }
    }

    private void takeBase(SenMlRecord record) throws BadFrameException {
        takeVersion(record);
        if (record.has(SenMlRecord.BASE_NAME)) {
            baseName = record.baseName;
        }
        if (record.has(SenMlRecord.BASE_UNIT)) {
            baseUnit = record.baseUnit;
        }
        if (record.has(SenMlRecord.BASE_TIME)) {
            baseTimeMicros = record.baseTimeMicros;
        }
        if (record.has(SenMlRecord.BASE_VALUE)) {
            baseValue = record.baseValue;
            baseValueGiven = true;
        }
        if (record.has(SenMlRecord.BASE_SUM)) {
            baseSum = record.baseSum;
            baseSumGiven = true;
        }
    }

    private void takeVersion(SenMlRecord record) throws BadFrameException {
        boolean first = records++ == 0;
        if (!record.has(SenMlRecord.BASE_VERSION)) {
            return;
        }
        double given = record.version;
        boolean known = (given >= 1 && given <= DEFAULT_VERSION && given == Math.rint(given))
                || given == SECONDARY_UNITS_VERSION;
        if (!known) {
            throw new BadFrameException(
                    "field \"bver\" is " + TextValues.shortest(given) + "; allowed are 1 to 10, and 26");
        }
        if (!first && given != version) {
            throw new BadFrameException("field \"bver\" is " + TextValues.shortest(given)
                    + "; allowed is one version a pack, here " + TextValues.shortest(version));
        }
        version = given;
    }

    private WallTime time(SenMlRecord record) throws BadFrameException {
        long micros = record.has(SenMlRecord.TIME) ? baseTimeMicros + record.timeMicros : baseTimeMicros;
        String field = record.has(SenMlRecord.TIME) ? "t" : "bt";
        if (micros > -RELATIVE_BELOW_MICROS && micros < RELATIVE_BELOW_MICROS) {
            if (recorded) {
                throw new BadFrameException("field \"" + field + "\" makes the time " + micros / 1e6
                        + " s, relative or missing; allowed in a recorded burn is Unix time in "
                        + TextValues.ALLOWED_YEARS);
            }
            return micros == 0 ? now : now.plusMicros(micros);
        }
        if (!TextValues.isAllowedTime(micros)) {
            throw new BadFrameException("field \"" + field + "\" makes the time " + micros / 1e6
                    + " s; allowed are less than 2^28 s, relative, and Unix time in " + TextValues.ALLOWED_YEARS);
        }
        if (lastTime.epochMicros() != micros) {
            lastTime = new WallTime(micros);
        }
        return lastTime;
    }

    private static double plausible(String field, double value) throws BadFrameException {
        if (!TextValues.isPlausible(value)) {
            throw new BadFrameException(
                    "field \"" + field + "\" is " + value + " with its base; allowed is -1e300 to 1e300");
        }
        return value;
    }

    private void addNumber(SenMlRecord record, RecordName name, WallTime time, double value) throws BadFrameException {
        if (name.setting()) {
            pack.add(new Setting(
                    name.channel().forge(), time, name.channel().name(), TextValues.shortest(value), unit(record)));
        } else {
            addReading(record, name.channel(), time, value, Unit.ofSymbol(unit(record)));
        }
    }

    private void addBoolean(SenMlRecord record, RecordName name, WallTime time) throws BadFrameException {
        if (name.faultOf() == null) {
            addNumber(record, name, time, record.truth ? 1 : 0);
        } else if (record.truth) {
            addFault(record, name.faultOf(), time, Quality.FAULT);
        }
    }

    private void addText(SenMlRecord record, RecordName name, WallTime time) throws BadFrameException {
        Channel faultOf = name.faultOf();
        if (faultOf != null) {
            if (!record.text.equals(FAULT_NONE)) {
                addFault(record, faultOf, time, faultOfWord(record.text));
            }
        } else if (name.setting()) {
            // A base unit is that of the numbers around; text has a unit only where it says so itself.
            String unit = record.has(SenMlRecord.UNIT) ? record.unit : "";
            pack.add(new Setting(name.channel().forge(), time, name.channel().name(), record.text, unit));
        } else {
            addNote(name, time, record.text);
        }
    }

    /** The four fault words of the wire; any other is a fault of no known kind. */
    static Quality faultOfWord(String word) {
        return switch (word) {
            case "open" -> Quality.OPEN;
            case "short-ground" -> Quality.SHORT_TO_GROUND;
            case "short-supply" -> Quality.SHORT_TO_SUPPLY;
            case "range" -> Quality.RANGE;
            default -> Quality.FAULT;
        };
    }

    private void addNote(RecordName name, WallTime time, String text) throws BadFrameException {
        if (text.length() > Note.MAX_TEXT_LENGTH) {
            throw new BadFrameException("field \"vs\" or \"vd\" is " + text.length() + " characters long; allowed are "
                    + Note.MAX_TEXT_LENGTH);
        }
        pack.add(new Note(name.channel().forge(), time, name.channel().name(), text));
    }

    private void addSum(SenMlRecord record, RecordName name, WallTime time, double sum) throws BadFrameException {
        String unit = unit(record);
        try {
            Channel channel = new Channel(name.channel().forge(), name.channel().name() + SUM_SUFFIX);
            addReading(record, channel, time, sum, Unit.ofSymbol(unit.isEmpty() ? "s" : unit + " s"));
        } catch (IllegalArgumentException e) {
            throw new BadFrameException("field \"s\" cannot be kept: " + e.getMessage());
        }
    }

    private void addReading(SenMlRecord record, Channel channel, WallTime time, double value, Unit unit)
            throws BadFrameException {
        pack.add(new Reading(
                channel, value, unit, uncertainty(record), quality(record, Quality.GOOD), time, receipt(record, time)));
    }

    private void addFault(SenMlRecord record, Channel channel, WallTime time, Quality word) throws BadFrameException {
        Quality quality = quality(record, word);
        if (!quality.isBad()) {
            throw new BadFrameException(
                    "field \"quality\" is \"" + quality.code() + "\"; allowed with a fault is a bad one");
        }
        pack.add(new Reading(
                channel,
                Double.NaN,
                Unit.ofSymbol(unit(record)),
                uncertainty(record),
                quality,
                time,
                receipt(record, time)));
    }

    private String unit(SenMlRecord record) {
        return record.has(SenMlRecord.UNIT) ? record.unit : baseUnit;
    }

    private static Quality quality(SenMlRecord record, Quality otherwise) throws BadFrameException {
        if (!record.has(SenMlRecord.QUALITY)) {
            return otherwise;
        }
        return Quality.ofCode(record.quality).orElseThrow(() -> badQuality(record.quality));
    }

    /** Names every code that a quality may have. */
    static BadFrameException badQuality(String code) {
        StringBuilder allowed = new StringBuilder();
        for (Quality quality : Quality.values()) {
            allowed.append(' ').append(quality.code());
        }
        return new BadFrameException("field \"quality\" is " + TextValues.quoted(code) + "; allowed are" + allowed);
    }

    private static double uncertainty(SenMlRecord record) throws BadFrameException {
        if (!record.has(SenMlRecord.UNCERTAINTY)) {
            return Double.NaN;
        }
        if (record.uncertainty < 0) {
            throw new BadFrameException(
                    "field \"uncertainty\" is " + TextValues.shortest(record.uncertainty) + "; allowed is 0 or more");
        }
        return record.uncertainty;
    }

    private WallTime receipt(SenMlRecord record, WallTime time) throws BadFrameException {
        if (!record.has(SenMlRecord.RECEIVED)) {
            return recorded ? time : now;
        }
        if (!TextValues.isAllowedTime(record.receivedMicros)) {
            throw new BadFrameException("field \"received\" is " + record.receivedMicros / 1e6
                    + " s; allowed is Unix time in " + TextValues.ALLOWED_YEARS);
        }
        return new WallTime(record.receivedMicros);
    }
}
