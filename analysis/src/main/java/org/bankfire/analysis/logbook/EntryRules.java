package org.bankfire.analysis.logbook;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;

/**
 * What people may write down, by name: the same for the page, for commands and for corrections. What a source sends is kept
 * as it is, and what cannot be read of it has no effect. Names of settings that are not known here are free.
 */
public final class EntryRules {
    /** The jet's bore, mm. */
    public static final String JET = Setting.PREFIX + "jet";
    /** How far the jet stands from the mouth of the mixing tube, mm; negative inside of it. */
    public static final String JET_POSITION = Setting.PREFIX + "jet-position";
    /** How far the air is closed: a percentage, or words. */
    public static final String CHOKE = Setting.PREFIX + "choke";
    /** What stands in the mixing tube: a percentage of its bore, or words. */
    public static final String OBSTRUCTION = Setting.PREFIX + "obstruction";
    /** A change of the lining in words; {@code new} and {@code fired} begin and end a first firing. */
    public static final String LINING = Setting.PREFIX + "lining";
    /** Below this gauge pressure the burner burns unsteadily, as the user has marked it. */
    public static final String LOWEST_STABLE = Setting.PREFIX + "lowest-stable";
    /** Above this gauge pressure the burner burns unsteadily, as the user has marked it. */
    public static final String HIGHEST_STABLE = Setting.PREFIX + "highest-stable";
    /** Begins the names under which stands what the user can set something to, such as {@code setting-possible-jet}. */
    public static final String POSSIBLE = Setting.PREFIX + "possible-";

    /** Longest value of a setting. */
    public static final int MAX_VALUE_LENGTH = 256;
    /** Values that a setting may possibly have; more of them are no set that lies in a drawer. */
    public static final int MOST_POSSIBLE = 32;

    private static final int MAX_UNIT_LENGTH = 32;
    private static final Pattern NAME = Pattern.compile("plug|setting-[A-Za-z0-9._-]{1,100}");
    /** Finest drill and widest jet of a workshop's propane burner. Common practice, no source. */
    private static final double LEAST_JET_MM = 0.1;

    private static final double WIDEST_JET_MM = 5;
    /** Longer than any mixing tube of such a forge. Common practice, no source. */
    private static final double FURTHEST_POSITION_MM = 500;
    /** What a full cylinder holds at summer heat, Pa gauge. Common practice, no source. */
    private static final double MOST_PRESSURE_PA = 1e6;
    /** The largest cylinder that is moved by hand, full, kg. Common practice, no source. */
    private static final double HEAVIEST_KG = 500;
    /** Twelve digits: finer than any scale or rule, and free of the last digit's noise of a conversion. */
    private static final MathContext TWELVE_DIGITS = new MathContext(12);

    /** Inch: exact by the international yard and pound agreement of 1959. */
    private static final Map<String, Double> MILLIMETRES = Map.of("mm", 1.0, "cm", 10.0, "m", 1000.0, "in", 25.4);
    /** Pound: exact by the same agreement. */
    private static final Map<String, Double> KILOGRAMS = Map.of("kg", 1.0, "g", 1e-3, "lb", 0.45359237);

    private static final List<Unit> PRESSURES = List.of(
            Unit.PASCAL, Unit.HECTOPASCAL, Unit.KILOPASCAL, Unit.MILLIBAR, Unit.BAR, Unit.PSI, Unit.INCH_OF_WATER);

    private EntryRules() {}

    /** Whether entries of that name are settings or notes that people may write down. */
    public static boolean isWritable(String name) {
        return name.equals(Note.REMARK)
                || name.equals(Note.STOCK)
                || name.equals(ChannelNames.CYLINDER)
                || (NAME.matcher(name).matches() && LogResolver.isCorrectable(name));
    }

    /**
     * What is to be written down.
     *
     * @param name such as {@code setting-jet}, {@code plug}, {@code stock}, {@code cylinder} or {@code note}
     * @param value as entered; a setting's may end with its unit
     * @param unit as entered beside it; empty for none
     * @return the value with its unit as it is to be kept; lengths in mm, masses in kg, pressures as given
     * @throws BadEntryException when it says nothing that can be used
     */
    public static Worded check(String name, String value, String unit) throws BadEntryException {
        if (!isWritable(name)) {
            throw new BadEntryException(
                    "name",
                    name,
                    "note, stock, cylinder, plug, or setting- followed by 1 to 100 letters, digits, '.', '_' and '-', none"
                            + " of those that the daemon keeps for itself");
        }
        String stripped = value.strip();
        if (unit.length() > MAX_UNIT_LENGTH) {
            throw new BadEntryException("unit", unit, "at most " + MAX_UNIT_LENGTH + " characters");
        }
        Worded given = unit.isEmpty() ? Worded.of(stripped) : new Worded(stripped, unit.strip());
        if (name.startsWith(POSSIBLE)) {
            return possible(name.substring(POSSIBLE.length()), given.toString());
        }
        return switch (name) {
            case Note.REMARK -> text(stripped, Note.MAX_TEXT_LENGTH);
            case Note.STOCK -> inOrOut(stripped, true);
            case Setting.PLUG -> inOrOut(stripped, false);
            case JET -> millimetres(given, LEAST_JET_MM, WIDEST_JET_MM, "0.8 mm");
            case JET_POSITION -> millimetres(given, -FURTHEST_POSITION_MM, FURTHEST_POSITION_MM, "12 mm");
            case CHOKE, OBSTRUCTION -> shareOrText(given);
            case LOWEST_STABLE, HIGHEST_STABLE -> pressure(given);
            case ChannelNames.CYLINDER -> kilograms(given);
            default -> free(given);
        };
    }

    private static Worded text(String text, int most) throws BadEntryException {
        if (text.isEmpty() || text.length() > most) {
            throw new BadEntryException("value", text, "text of 1 to " + most + " characters");
        }
        return new Worded(text, "");
    }

    private static Worded free(Worded given) throws BadEntryException {
        text(given.toString(), MAX_VALUE_LENGTH);
        return given;
    }

    private static Worded inOrOut(String text, boolean withSize) throws BadEntryException {
        String first = text.split("[^A-Za-z]", 2)[0].toLowerCase(Locale.ROOT);
        boolean known = first.equals("in") || first.equals("out");
        if (known && first.length() == text.length()) {
            return new Worded(first, "");
        }
        if (!known || !withSize || text.length() > MAX_VALUE_LENGTH) {
            throw new BadEntryException(
                    "value",
                    text,
                    withSize
                            ? "in or out, and after it what stock, at most " + MAX_VALUE_LENGTH + " characters"
                            : "in, out");
        }
        return new Worded(first + text.substring(first.length()), "");
    }

    private static Worded millimetres(Worded given, double least, double most, String example)
            throws BadEntryException {
        Double factor = MILLIMETRES.get(given.unit().isEmpty() ? "mm" : given.unit());
        double millimetres = factor == null ? Double.NaN : given.number() * factor;
        if (factor == null || !(millimetres >= least && millimetres <= most)) {
            throw new BadEntryException(
                    "value",
                    given.toString(),
                    "a length from " + decimal(least) + " mm to " + decimal(most) + " mm, as in \"" + example
                            + "\" (units: mm, cm, m, in)");
        }
        return new Worded(factor == 1 ? given.value() : decimal(millimetres), "mm");
    }

    private static Worded kilograms(Worded given) throws BadEntryException {
        Double factor = KILOGRAMS.get(given.unit().isEmpty() ? "kg" : given.unit());
        double kilograms = factor == null ? Double.NaN : given.number() * factor;
        if (factor == null || !(kilograms > 0 && kilograms <= HEAVIEST_KG)) {
            throw new BadEntryException(
                    "value",
                    given.toString(),
                    "a mass of more than 0 kg and at most " + decimal(HEAVIEST_KG)
                            + " kg, as in \"11.2 kg\" (units: kg, g, lb)");
        }
        return new Worded(factor == 1 ? given.value() : decimal(kilograms), "kg");
    }

    private static Worded pressure(Worded given) throws BadEntryException {
        for (Unit unit : PRESSURES) {
            double pascal = unit.toSi(given.number());
            if (unit.symbol().equals(given.unit()) && pascal > 0 && pascal <= MOST_PRESSURE_PA) {
                return given;
            }
        }
        throw new BadEntryException(
                "value",
                given.toString(),
                "a gauge pressure of more than 0 and at most 10 bar with its unit, as in \"0.2 bar\" (units: Pa, hPa, kPa,"
                        + " mbar, bar, psi, inH2O)");
    }

    private static Worded shareOrText(Worded given) throws BadEntryException {
        if (given.unit().equals("%") && !(given.number() >= 0 && given.number() <= 100)) {
            throw new BadEntryException("value", given.toString(), "0 % to 100 %, or text of 1 to 256 characters");
        }
        return free(given);
    }

    private static Worded possible(String of, String list) throws BadEntryException {
        String name = of.equals(Setting.PLUG) ? of : Setting.PREFIX + of;
        String[] parts = list.split(",", -1);
        if (!isWritable(name) || name.startsWith(POSSIBLE) || parts.length > MOST_POSSIBLE) {
            throw new BadEntryException(
                    "value", list, "1 to " + MOST_POSSIBLE + " values separated by commas, of a setting's name");
        }
        List<String> values = new ArrayList<>();
        for (String part : parts) {
            Worded one = check(name, part, "");
            String unitless = name.equals(JET) || name.equals(JET_POSITION) ? one.value() : one.toString();
            if (!values.contains(unitless)) {
                values.add(unitless);
            }
        }
        return text(String.join(", ", values), MAX_VALUE_LENGTH);
    }

    /** The number in decimals, without an exponent. */
    private static String decimal(double value) {
        BigDecimal rounded = BigDecimal.valueOf(value).round(TWELVE_DIGITS).stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0).toPlainString() : rounded.toPlainString();
    }
}
