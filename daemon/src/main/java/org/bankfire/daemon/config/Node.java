package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The configuration as a tree that knows where each of its parts was written. */
sealed interface Node {
    Place place();

    /** Its value as the reader wrote it, short. */
    String shown();

    /**
     * One value.
     *
     * @param place of its key
     * @param value String, Long, Double or Boolean; of a date or time its text
     */
    record Scalar(Place place, Object value) implements Node {
        // A screen line; the whole value stands in the file.
        private static final int SHOWN_LENGTH = 60;

        @Override
        public String shown() {
            String text = value.toString();
            String cut = text.length() > SHOWN_LENGTH ? text.substring(0, SHOWN_LENGTH) + "…" : text;
            return value instanceof String ? TomlText.quoted(cut) : cut;
        }
    }

    /**
     * A table; changed by settings from the command line only, before it is read.
     *
     * @param place of its header
     * @param entries by key, in the order of the file
     */
    record Table(Place place, Map<String, Node> entries) implements Node {
        Table(Place place) {
            this(place, new LinkedHashMap<>());
        }

        @Override
        public String shown() {
            return "a table";
        }
    }

    /**
     * A list of values or tables; changed as tables are.
     *
     * @param place of its key
     * @param items in order
     */
    record Items(Place place, List<Node> items) implements Node {
        // Enough to recognise it by.
        private static final int SHOWN_ITEMS = 4;

        Items(Place place) {
            this(place, new ArrayList<>());
        }

        @Override
        public String shown() {
            List<String> parts = new ArrayList<>();
            for (Node item : items.subList(0, Math.min(SHOWN_ITEMS, items.size()))) {
                parts.add(item.shown());
            }
            if (items.size() > SHOWN_ITEMS) {
                parts.add("…");
            }
            return "[" + String.join(", ", parts) + "]";
        }
    }
}
