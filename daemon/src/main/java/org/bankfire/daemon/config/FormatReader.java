package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.jspecify.annotations.Nullable;

/** Reads how a source writes its frames: {@code format}, {@code forge}, {@code checksum} and the columns. */
final class FormatReader {
    /** What messages over a broker have. */
    static final ChecksumPolicy NO_CHECKSUM = ChecksumPolicy.OPTIONAL;

    /** Column that holds the time. */
    private static final String TIME = "time";

    private static final String COLUMNS_ALLOWED =
            "a list of names with units, as in [\"time\", \"chamber degC\", \"gas psi\", \"\"]; \"\" passes a column over";
    private static final String DELIMITER_ALLOWED =
            "one character between columns, no letter, digit, quote, sign or point, as in \",\"";
    private static final String NEVER_DELIMITERS = "+-.\"'\r\n";

    private final List<String> forges;
    private final Problems problems;

    FormatReader(List<String> forges, Problems problems) {
        this.forges = forges;
        this.problems = problems;
    }

    ChecksumPolicy checksum(Section section) {
        return section.choice(
                "checksum",
                Section.words(
                        Map.entry("optional", ChecksumPolicy.OPTIONAL), Map.entry("required", ChecksumPolicy.REQUIRED)),
                ChecksumPolicy.OPTIONAL);
    }

    /** The format, or null after a problem. */
    @Nullable
    FrameFormat read(Section section, ChecksumPolicy checksum) {
        String format = section.choice(
                "format", Section.words(Map.entry("senml", "senml"), Map.entry("columns", "columns")), "senml");
        String forge = forge(section);
        if (format.equals("senml")) {
            return new FrameFormat.SenMl(checksum, forge);
        }
        if (forge == null) {
            section.missing("forge", "id of the forge that the columns belong to, one of " + String.join(", ", forges));
        }
        char delimiter = delimiter(section);
        if (!section.has("columns")) {
            section.missing("columns", COLUMNS_ALLOWED);
        }
        List<FrameFormat.Column> columns = columns(section);
        return forge == null ? null : new FrameFormat.Columns(checksum, forge, delimiter, columns);
    }

    /** The forge that a source names; the only one when it names none; null when that cannot be known. */
    @Nullable
    String forge(Section section) {
        String only = forges.size() == 1 ? forges.get(0) : null;
        String forge = section.text("forge", "id of a forge");
        if (forge == null) {
            return only;
        }
        section.check("forge", forge, id -> new Channel(id, ChannelNames.CHAMBER));
        if (!forges.contains(forge)) {
            section.doubt(
                    "forge",
                    "no [[forge]] has this id; its readings will be stored and not watched",
                    NearestName.among(forge, forges));
        }
        return forge;
    }

    private static char delimiter(Section section) {
        Node node = section.node("delimiter");
        if (node == null) {
            return ',';
        }
        if (node instanceof Node.Scalar scalar
                && scalar.value() instanceof String text
                && text.length() == 1
                && !Character.isLetterOrDigit(text.charAt(0))
                && NEVER_DELIMITERS.indexOf(text.charAt(0)) < 0) {
            return text.charAt(0);
        }
        section.refuse("delimiter", DELIMITER_ALLOWED);
        return ',';
    }

    private List<FrameFormat.Column> columns(Section section) {
        List<FrameFormat.Column> columns = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        boolean allRight = true;
        List<Node> items = section.list("columns", COLUMNS_ALLOWED);
        for (int i = 0; i < items.size(); i++) {
            Node item = items.get(i);
            String wrong = COLUMNS_ALLOWED;
            if (item instanceof Node.Scalar scalar && scalar.value() instanceof String text) {
                try {
                    FrameFormat.Column column = column(text.strip());
                    wrong = wrong(column);
                    if (wrong.isEmpty() && !column.name().isEmpty() && !seen.add(column.name())) {
                        wrong = "there is a column " + column.name() + " already";
                    }
                    columns.add(column);
                } catch (IllegalArgumentException e) {
                    wrong = String.valueOf(e.getMessage());
                }
            }
            if (!wrong.isEmpty()) {
                allRight = false;
                problems.error(item.place(), section.pathOf("columns") + "." + i, item.shown(), wrong);
            }
        }
        if (allRight
                && section.node("columns") instanceof Node.Items
                && seen.stream().allMatch(TIME::equals)) {
            section.refuse("columns", "one column at least must hold a reading: " + COLUMNS_ALLOWED);
        }
        return columns;
    }

    private static FrameFormat.Column column(String text) {
        String[] parts = text.split("\\s+", 2);
        String symbol = parts.length < 2 ? "" : parts[1];
        String known = switch (symbol) {
            case "degC", "°C" -> Unit.CELSIUS.symbol();
            case "°F" -> Unit.FAHRENHEIT.symbol();
            default -> symbol;
        };
        return new FrameFormat.Column(parts[0], Unit.ofSymbol(known));
    }

    /** What is wrong with a column; empty when nothing is. */
    private static String wrong(FrameFormat.Column column) {
        String name = column.name();
        if (name.isEmpty()) {
            return "";
        }
        if (name.equals(TIME)) {
            return column.unit().equals(Unit.NONE) ? "" : "the time has no unit: Unix seconds or ISO 8601";
        }
        try {
            new Channel("forge", name);
        } catch (IllegalArgumentException e) {
            return String.valueOf(e.getMessage());
        }
        Unit.Quantity expected = quantityOf(name);
        if (expected == Unit.Quantity.OTHER || expected == column.unit().quantity()) {
            return "";
        }
        return switch (expected) {
            case TEMPERATURE ->
                name + " is a temperature: write degC, degF or K behind it, as in \"" + name + " degC\"";
            case PRESSURE ->
                name + " is a pressure: write Pa, hPa, kPa, mbar, bar, psi or inH2O behind it, as in \"" + name
                        + " psi\"";
            case VOLTAGE -> name + " is a voltage: write V or mV behind it, as in \"" + name + " mV\"";
            case MASS -> name + " is a mass: write kg or g behind it, as in \"" + name + " kg\"";
            default -> name + " is a number without unit, or with / for a ratio";
        };
    }

    /** What a record of that name must measure; {@code OTHER} for a channel of the user's own. */
    static Unit.Quantity quantityOf(String name) {
        if (name.endsWith(ChannelNames.EMF_SUFFIX) || name.endsWith(ChannelNames.VOLTS_SUFFIX)) {
            return Unit.Quantity.VOLTAGE;
        }
        if (name.endsWith(ChannelNames.LINEAR_SUFFIX)) {
            return Unit.Quantity.TEMPERATURE;
        }
        if (name.endsWith(ChannelNames.RATIO_SUFFIX)) {
            return Unit.Quantity.RATIO;
        }
        return switch (name) {
            case ChannelNames.CHAMBER,
                    ChannelNames.SHELL,
                    ChannelNames.AMBIENT,
                    ChannelNames.GAS_TEMPERATURE,
                    ChannelNames.STOCK,
                    ChannelNames.COLD_JUNCTION -> Unit.Quantity.TEMPERATURE;
            case ChannelNames.GAS -> Unit.Quantity.PRESSURE;
            case ChannelNames.CYLINDER -> Unit.Quantity.MASS;
            case ChannelNames.FLAME, ChannelNames.SEQUENCE -> Unit.Quantity.RATIO;
            default -> Unit.Quantity.OTHER;
        };
    }
}
