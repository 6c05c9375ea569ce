package org.bankfire.daemon.config;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.tomlj.Toml;
import org.tomlj.TomlArray;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;

/** Turns TOML text into a {@link Node} tree. */
final class TomlTree {
    // Deeper than any key of the configuration; keeps whatever walks the tree off the end of its stack.
    private static final int MAX_DEPTH = 16;
    // A thousand forges fit; a wrong file, such as a recording, does not.
    private static final int MAX_LENGTH = 1 << 20;

    private static final Pattern KEY_OF_LINE = Pattern.compile("\\s*([A-Za-z0-9_.\"-]+)\\s*=.*");
    private static final Pattern BARE_QUANTITY =
            Pattern.compile("\\s*([A-Za-z0-9_.-]+)\\s*=\\s*([+-]?[0-9.]+\\s*[A-Za-z%°µ][^\\s#\"']*)\\s*(?:#.*)?");

    private final String file;
    private final List<String> lines;
    private final Problems problems;

    private TomlTree(String file, List<String> lines, Problems problems) {
        this.file = file;
        this.lines = lines;
        this.problems = problems;
    }

    /** The tree of {@code text}; when it is not TOML, problems say where, and the tree may lack parts. */
    static Node.Table parse(String text, String file, Problems problems) {
        TomlTree tree = new TomlTree(file, text.lines().toList(), problems);
        Place start = new Place(file, 1);
        if (text.length() > MAX_LENGTH) {
            problems.error(start, "", "", "a configuration is shorter than " + MAX_LENGTH + " characters");
            return new Node.Table(start);
        }
        // Some editors begin a file with a byte order mark, which TOML does not know.
        String plain = text.startsWith("\uFEFF") ? text.substring(1) : text;
        TomlParseResult result;
        try {
            result = Toml.parse(plain);
        } catch (StackOverflowError e) {
            // The parser calls itself for each bracket; nothing that it built is used.
            problems.error(start, "", "", "not TOML: brackets inside brackets without end");
            return new Node.Table(start);
        }
        for (TomlParseError error : result.errors()) {
            tree.report(error);
        }
        return tree.table(result, start, 0);
    }

    private Node.Table table(TomlTable source, Place place, int depth) {
        Node.Table table = new Node.Table(place);
        for (String key : source.keySet()) {
            List<String> path = List.of(key);
            Object value = source.get(path);
            if (value != null) {
                table.entries().put(key, node(value, place(source.inputPositionOf(path), place), depth + 1));
            }
        }
        return table;
    }

    private Node node(Object value, Place place, int depth) {
        if (depth > MAX_DEPTH) {
            problems.error(place, "", "", "nothing in a configuration lies more than " + MAX_DEPTH + " levels deep");
            return new Node.Scalar(place, "");
        }
        if (value instanceof TomlTable table) {
            return table(table, place, depth);
        }
        if (value instanceof TomlArray array) {
            Node.Items items = new Node.Items(place);
            for (int i = 0; i < array.size(); i++) {
                items.items().add(node(array.get(i), startOf(array.inputPositionOf(i)), depth + 1));
            }
            return items;
        }
        boolean plain =
                value instanceof String || value instanceof Long || value instanceof Double || value instanceof Boolean;
        return new Node.Scalar(place, plain ? value : value.toString());
    }

    private Place place(@Nullable TomlPosition position, Place otherwise) {
        return position == null ? otherwise : new Place(file, position.line());
    }

    /** The parser lets an item begin behind the comma before it; this passes over blanks, comments and line ends. */
    private Place startOf(TomlPosition position) {
        int line = position.line();
        int column = position.column();
        while (line < lines.size()) {
            String text = lines.get(line - 1);
            String rest = text.codePointCount(0, text.length()) < column
                    ? ""
                    : text.substring(text.offsetByCodePoints(0, column - 1)).strip();
            if (!rest.isEmpty() && !rest.startsWith("#")) {
                break;
            }
            line++;
            column = 1;
        }
        return new Place(file, line);
    }

    private void report(TomlParseError error) {
        int line = error.position().line();
        String text = line <= lines.size() ? lines.get(line - 1).strip() : "";
        Matcher keyOfLine = KEY_OF_LINE.matcher(text);
        String key = keyOfLine.matches() ? keyOfLine.group(1) : "";
        Matcher quantity = BARE_QUANTITY.matcher(text);
        String message = String.valueOf(error.getMessage());
        String allowed;
        if (anySecret()) {
            // The parser may quote what stands beside its key, in this line or, in long strings, a later one.
            allowed = "not TOML, or a key written twice; the line is not shown because the file holds a secret";
            text = "";
        } else if (quantity.matches()) {
            allowed =
                    "a value with its unit stands in quotes: " + quantity.group(1) + " = \"" + quantity.group(2) + "\"";
        } else if (message.contains("previously defined")) {
            allowed = "written twice: " + message;
        } else {
            allowed = "not TOML: " + message + " (column " + error.position().column() + ")";
        }
        String value =
                key.isEmpty() ? text : text.substring(text.indexOf('=') + 1).strip();
        problems.error(new Place(file, line), key, value, allowed);
    }

    private boolean anySecret() {
        return lines.stream().anyMatch(line -> {
            Matcher key = KEY_OF_LINE.matcher(line);
            return key.matches() && Problems.isSecret(key.group(1).replace("\"", ""));
        });
    }
}
