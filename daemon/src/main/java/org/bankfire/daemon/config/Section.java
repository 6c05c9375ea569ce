package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Supplier;
import org.bankfire.analysis.quantity.Range;
import org.jspecify.annotations.Nullable;

/**
 * One table of the configuration while it is read. Every method notes the key as known; whatever is wrong with its value
 * goes to the problems, and a stand-in comes back so that reading goes on: NaN, 0, an empty text or null.
 */
final class Section {
    private static final double ZERO_CELSIUS_K = 273.15;

    private final Node.Table table;
    private final String path;
    private final Problems problems;
    private final int errorsBefore;
    private final Set<String> known = new TreeSet<>();
    private final Set<String> elsewhere = new TreeSet<>();

    /**
     * Begins to read.
     *
     * @param path dotted, empty for the root
     */
    Section(Node.Table table, String path, Problems problems) {
        this.table = table;
        this.path = path;
        this.problems = problems;
        this.errorsBefore = problems.errorCount();
    }

    Place place() {
        return table.place();
    }

    String path() {
        return path;
    }

    /** Where a key's value stands; the table's header when it is missing. */
    Place placeOf(String key) {
        Node node = table.entries().get(key);
        return node == null ? table.place() : node.place();
    }

    /** Whether the file has this key. */
    boolean has(String key) {
        note(key);
        return table.entries().containsKey(key);
    }

    /** The value as it stands, or null. */
    @Nullable
    Node node(String key) {
        note(key);
        return table.entries().get(key);
    }

    /** Says what is wrong with a key's value. */
    void refuse(String key, String allowed) {
        refuse(key, allowed, "");
    }

    /** Says what is wrong with a key's value and which word was probably meant. */
    void refuse(String key, String allowed, String nearest) {
        problems.error(placeOf(key), pathOf(key), shown(key), allowed, nearest);
    }

    /** As {@link #refuse}, without the value, which may hold a secret. */
    void refuseUnseen(String key, String allowed) {
        problems.error(placeOf(key), pathOf(key), "", allowed, "");
    }

    /** Refuses a key that belongs to another kind of table; it is not told among those that are known here. */
    void refuseIfThere(String key, String why) {
        Node node = table.entries().get(key);
        if (node != null) {
            elsewhere.add(key);
            problems.error(node.place(), pathOf(key), shown(key), why, "");
        }
    }

    /** Says that a key's value is probably not meant. */
    void doubt(String key, String why, String nearest) {
        problems.warning(placeOf(key), pathOf(key), shown(key), why, nearest);
    }

    /** Refuses what an earlier table says already; {@code seen} remembers. */
    void refuseTwice(Map<String, Place> seen, String what, String key, String why) {
        Place first = what.isBlank() ? null : seen.putIfAbsent(what, placeOf(key));
        if (first != null) {
            refuse(key, why + "; this one stands in line " + first.line() + " already");
        }
    }

    /** Says that a key has to be written. */
    void missing(String key, String allowed) {
        note(key);
        problems.error(table.place(), pathOf(key), "", "missing: " + allowed);
    }

    @Nullable
    String text(String key, String allowed) {
        Node node = node(key);
        if (node == null) {
            return null;
        }
        if (node instanceof Node.Scalar scalar && scalar.value() instanceof String text && !text.isBlank()) {
            return text;
        }
        refuse(key, allowed);
        return null;
    }

    String text(String key, String allowed, String otherwise) {
        String text = text(key, allowed);
        return text == null ? otherwise : text;
    }

    String requiredText(String key, String allowed) {
        if (!has(key)) {
            missing(key, allowed);
        }
        return text(key, allowed, "");
    }

    /** One of several words; {@code otherwise} when it is missing or wrong. */
    <T> T choice(String key, Map<String, T> words, T otherwise) {
        return choice(key, words, otherwise, "");
    }

    /** As above; {@code more} says what else may be written in place of the words. */
    <T> T choice(String key, Map<String, T> words, T otherwise, String more) {
        String allowed = "one of " + String.join(", ", words.keySet()) + (more.isEmpty() ? "" : ", " + more);
        String word = text(key, allowed);
        if (word == null) {
            return otherwise;
        }
        T chosen = words.get(word);
        if (chosen == null) {
            refuse(key, allowed, NearestName.among(word, words.keySet()));
            return otherwise;
        }
        return chosen;
    }

    <T> T requiredChoice(String key, Map<String, T> words, T standIn) {
        if (!has(key)) {
            missing(key, "one of " + String.join(", ", words.keySet()));
        }
        return choice(key, words, standIn);
    }

    boolean flag(String key, String allowed, boolean otherwise) {
        Node node = node(key);
        if (node == null) {
            return otherwise;
        }
        if (node instanceof Node.Scalar scalar && scalar.value() instanceof Boolean flag) {
            return flag;
        }
        refuse(key, allowed);
        return otherwise;
    }

    long integer(String key, long low, long high, long otherwise) {
        Node node = node(key);
        if (node == null) {
            return otherwise;
        }
        if (node instanceof Node.Scalar scalar
                && scalar.value() instanceof Long number
                && number >= low
                && number <= high) {
            return number;
        }
        refuse(key, "a whole number from " + low + " to " + high);
        return otherwise;
    }

    /** A quantity in the SI unit of its dimension; {@code otherwise} when it is missing, NaN when it is wrong. */
    double quantity(String key, Dimension dimension, Range range, String example, double otherwise) {
        Node node = node(key);
        if (node == null) {
            return otherwise;
        }
        return quantity(node, pathOf(key), dimension, range, example);
    }

    double requiredQuantity(String key, Dimension dimension, Range range, String example) {
        if (!has(key)) {
            missing(key, dimension.allowed(range, example));
        }
        return quantity(key, dimension, range, example, Double.NaN);
    }

    /** A temperature, range in K, in °C. */
    double celsius(String key, Range rangeK, String example, double otherwiseC) {
        double kelvin = quantity(key, Dimension.TEMPERATURE, rangeK, example, Double.NaN);
        return has(key) ? celsius(kelvin) : otherwiseC;
    }

    /** The figure in °C that a temperature in K was made from; NaN from NaN. */
    static double celsius(double kelvin) {
        return Double.isNaN(kelvin) ? Double.NaN : Math.round((kelvin - ZERO_CELSIUS_K) * 1e9) / 1e9;
    }

    /** A quantity that is not the value of a key of its own, such as one of a list. */
    double quantity(Node node, String where, Dimension dimension, Range range, String example) {
        String wrong = "";
        if (node instanceof Node.Scalar scalar) {
            Object value = scalar.value();
            if (value instanceof String
                    || ((value instanceof Double || value instanceof Long) && mayBePlain(dimension))) {
                try {
                    double si = dimension.parse(value.toString()).si();
                    if (range.contains(si)) {
                        return si;
                    }
                } catch (IllegalArgumentException e) {
                    wrong = e.getMessage() + "; ";
                }
            } else if (value instanceof Double || value instanceof Long) {
                wrong = "it needs its unit; ";
            }
        }
        problems.error(node.place(), where, node.shown(), wrong + "allowed: " + dimension.allowed(range, example));
        return Double.NaN;
    }

    /** The items of a list; empty when the key is missing or holds no list. */
    List<Node> list(String key, String allowed) {
        Node node = node(key);
        if (node instanceof Node.Items items) {
            return items.items();
        }
        if (node != null) {
            refuse(key, allowed);
        }
        return List.of();
    }

    /** A list of texts, none of them blank. */
    List<String> texts(String key, String allowed) {
        List<String> texts = new ArrayList<>();
        List<Node> items = list(key, allowed);
        for (int i = 0; i < items.size(); i++) {
            Node item = items.get(i);
            if (item instanceof Node.Scalar scalar && scalar.value() instanceof String text && !text.isBlank()) {
                texts.add(text);
            } else {
                problems.error(item.place(), pathOf(key) + "." + i, item.shown(), allowed);
            }
        }
        return texts;
    }

    /** A table in this one, or null; {@code key} need not be there. */
    @Nullable
    Section table(String key) {
        Node node = node(key);
        if (node == null) {
            return null;
        }
        if (node instanceof Node.Table inner) {
            return new Section(inner, pathOf(key), problems);
        }
        refuse(key, "a table: write [" + withoutNumbers(pathOf(key)) + "]");
        return null;
    }

    /** A table in this one; when it is missing that is a problem, and an empty one stands in. */
    Section requiredTable(String key) {
        Section section = table(key);
        if (section == null) {
            if (!has(key)) {
                missing(key, "a table: write [" + withoutNumbers(pathOf(key)) + "]");
            }
            return new Section(new Node.Table(place()), pathOf(key), new Problems());
        }
        return section;
    }

    /** The tables of a list of tables. */
    List<Section> tables(String key) {
        String allowed = "a list of tables: write [[" + withoutNumbers(pathOf(key)) + "]] before each";
        List<Section> sections = new ArrayList<>();
        List<Node> items = list(key, allowed);
        for (int i = 0; i < items.size(); i++) {
            String where = pathOf(key) + "." + i;
            if (items.get(i) instanceof Node.Table inner) {
                sections.add(new Section(inner, where, problems));
            } else {
                problems.error(items.get(i).place(), where, items.get(i).shown(), allowed);
            }
        }
        return sections;
    }

    /** Refuses every key that was not asked for. To be called last. */
    void refuseOthers() {
        for (Map.Entry<String, Node> entry : table.entries().entrySet()) {
            String key = entry.getKey();
            if (!known.contains(key) && !elsewhere.contains(key)) {
                problems.error(
                        entry.getValue().place(),
                        pathOf(key),
                        entry.getValue().shown(),
                        "unknown key; known here: " + String.join(", ", known),
                        NearestName.among(key, known));
            }
        }
    }

    /** Builds a record, or gives null when this table, or the record itself, has something wrong. */
    <T> @Nullable T build(Supplier<T> maker) {
        if (problems.errorCount() > errorsBefore) {
            return null;
        }
        try {
            return maker.get();
        } catch (IllegalArgumentException e) {
            problems.error(place(), path, "", String.valueOf(e.getMessage()));
            return null;
        }
    }

    /** Checks a text with a constructor that refuses by exception, such as that of a channel. */
    void check(String key, String text, Function<String, ?> constructor) {
        try {
            Object unused = constructor.apply(text);
        } catch (IllegalArgumentException e) {
            refuse(key, String.valueOf(e.getMessage()));
        }
    }

    /** A map for {@link #choice} that keeps its order. */
    @SafeVarargs
    static <T> Map<String, T> words(Map.Entry<String, ? extends T>... entries) {
        Map<String, T> words = new LinkedHashMap<>();
        for (Map.Entry<String, ? extends T> entry : entries) {
            words.put(entry.getKey(), entry.getValue());
        }
        return words;
    }

    String pathOf(String key) {
        return path.isEmpty() ? key : path + "." + key;
    }

    private String shown(String key) {
        Node node = table.entries().get(key);
        return node == null ? "" : node.shown();
    }

    private void note(String key) {
        if (known.add(key)) {
            problems.askedFor(pathOf(key));
        }
    }

    private static boolean mayBePlain(Dimension dimension) {
        return dimension == Dimension.RATIO;
    }

    private static String withoutNumbers(String path) {
        return path.replaceAll("\\.\\d+", "");
    }
}
