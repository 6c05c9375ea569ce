package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.tomlj.Toml;
import org.tomlj.TomlArray;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlTable;

/**
 * Puts settings of the form {@code KEY=VALUE} into the tree before it is read. A key is one of the forge's, dotted, list
 * items by number from 0 or by name: {@code opening.rear.plug}. With several forges it begins with {@code forge} and the
 * forge's id: {@code forge.shed.opening.rear.plug}.
 */
final class Overrides {
    private static final String FILE = "--set";
    private static final Set<String> ROOTS = Set.of("dashboard", "store", "source", "forge");
    /** A whole lining of materials described in place is shorter. */
    private static final int MAX_VALUE_LENGTH = 4000;
    /** Deeper than any value lies; more brackets inside brackets would come to the end of the parser's stack. */
    private static final int MAX_BRACKETS = 400;
    // What the items of a list are called by, in order.
    private static final List<String> NAMES = List.of("id", "name", "material", "kind");

    private final Node.Table root;
    private final Problems problems;

    private Overrides(Node.Table root, Problems problems) {
        this.root = root;
        this.problems = problems;
    }

    static void apply(Node.Table root, List<String> assignments, Problems problems) {
        Overrides overrides = new Overrides(root, problems);
        for (String assignment : assignments) {
            overrides.apply(assignment);
        }
    }

    private void apply(String assignment) {
        int equals = assignment.indexOf('=');
        List<String> keys =
                equals < 1 ? List.of() : split(assignment.substring(0, equals).strip());
        if (keys.isEmpty() || keys.stream().anyMatch(String::isBlank)) {
            problems.error(new Place(FILE, 0), "", assignment, "KEY=VALUE, as in burner.jet=\"1.0 mm\"");
            return;
        }
        Place place = new Place(FILE, 0);
        Node value = value(assignment.substring(equals + 1).strip(), place);
        Node.Table start = ROOTS.contains(keys.get(0)) ? root : onlyForge(String.join(".", keys), value);
        if (start != null) {
            set(start, keys, value);
        }
    }

    private Node.@Nullable Table onlyForge(String key, Node value) {
        if (root.entries().get("forge") instanceof Node.Items forges) {
            if (forges.items().size() == 1 && forges.items().get(0) instanceof Node.Table only) {
                return only;
            }
            if (forges.items().size() > 1) {
                problems.error(
                        value.place(),
                        key,
                        value.shown(),
                        "there are several forges: write forge.ID." + key + " with one of " + names(forges));
                return null;
            }
        }
        problems.error(value.place(), key, value.shown(), "there is no forge to set this of");
        return null;
    }

    private void set(Node.Table start, List<String> keys, Node value) {
        String path = String.join(".", keys);
        Node at = start;
        for (int i = 0; i < keys.size(); i++) {
            String key = keys.get(i);
            boolean last = i == keys.size() - 1;
            if (at instanceof Node.Table table) {
                if (last) {
                    table.entries().put(key, value);
                    return;
                }
                at = table.entries().computeIfAbsent(key, absent -> new Node.Table(value.place()));
            } else if (at instanceof Node.Items list) {
                int index = indexOf(list, key, path, value);
                if (index < 0) {
                    return;
                }
                if (last) {
                    list.items().set(index, value);
                    return;
                }
                at = list.items().get(index);
            } else {
                problems.error(value.place(), path, value.shown(), "there is nothing inside a single value");
                return;
            }
        }
    }

    /** Number of the item that is meant; −1 after a problem. */
    private int indexOf(Node.Items list, String key, String path, Node value) {
        List<Integer> found = new ArrayList<>();
        for (int i = 0; i < list.items().size(); i++) {
            if (key.equals(String.valueOf(i)) || key.equals(nameOf(list.items().get(i)))) {
                found.add(i);
            }
        }
        if (found.size() == 1) {
            return found.get(0);
        }
        problems.error(
                value.place(),
                path,
                value.shown(),
                found.isEmpty()
                        ? "there is no \"" + key + "\" in the list; it has " + names(list)
                        : "several are named \"" + key + "\": take the number, from 0",
                found.isEmpty() ? NearestName.among(key, nameList(list)) : "");
        return -1;
    }

    private static String names(Node.Items list) {
        List<String> shown = new ArrayList<>();
        for (int i = 0; i < list.items().size(); i++) {
            String name = nameOf(list.items().get(i));
            shown.add(name.isEmpty() ? String.valueOf(i) : i + " (" + name + ")");
        }
        return shown.isEmpty() ? "no items" : String.join(", ", shown);
    }

    private static List<String> nameList(Node.Items list) {
        return list.items().stream()
                .map(Overrides::nameOf)
                .filter(name -> !name.isEmpty())
                .toList();
    }

    private static String nameOf(Node item) {
        if (item instanceof Node.Table table) {
            for (String key : NAMES) {
                if (table.entries().get(key) instanceof Node.Scalar scalar && scalar.value() instanceof String name) {
                    return name;
                }
            }
        }
        return "";
    }

    /** Keys may be quoted as in TOML; a bare one may hold spaces, as names of salvaged materials do. */
    private static List<String> split(String key) {
        try {
            return Toml.parseDottedKey(key);
        } catch (IllegalArgumentException e) {
            return List.of(key.split("\\.", -1));
        }
    }

    /** A TOML value when it is one, such as {@code 0.85} or {@code true} or a list; else the text itself. */
    private static Node value(String text, Place place) {
        long brackets = text.chars().filter(sign -> sign == '[' || sign == '{').count();
        if (text.length() <= MAX_VALUE_LENGTH && brackets <= MAX_BRACKETS) {
            TomlParseResult result = Toml.parse("value = " + text);
            Object value = result.get(List.of("value"));
            if (result.errors().isEmpty() && result.size() == 1 && value != null) {
                return node(value, text, place);
            }
        }
        return new Node.Scalar(place, text);
    }

    private static Node node(Object value, String text, Place place) {
        if (value instanceof TomlArray array) {
            Node.Items items = new Node.Items(place);
            for (int i = 0; i < array.size(); i++) {
                items.items().add(node(array.get(i), String.valueOf(array.get(i)), place));
            }
            return items;
        }
        if (value instanceof TomlTable table) {
            Node.Table entries = new Node.Table(place);
            for (String key : table.keySet()) {
                Object entry = table.get(List.of(key));
                if (entry != null) {
                    entries.entries().put(key, node(entry, String.valueOf(entry), place));
                }
            }
            return entries;
        }
        boolean plain =
                value instanceof String || value instanceof Long || value instanceof Double || value instanceof Boolean;
        return new Node.Scalar(place, plain ? value : text);
    }
}
