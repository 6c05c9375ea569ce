package org.bankfire.daemon.report.document;

import java.util.List;

/**
 * All that a report says, in order. Texts may come from anybody and hold any character; who writes them makes them safe.
 *
 * @param title what it is about
 * @param subtitle a sentence below it
 * @param foot a line for the foot of each sheet
 * @param sections in order
 */
public record ReportContent(String title, String subtitle, String foot, List<Section> sections) {
    public ReportContent {
        sections = List.copyOf(sections);
    }

    /**
     * A part with a heading.
     *
     * @param title its heading
     * @param blocks what stands below it
     */
    public record Section(String title, List<Block> blocks) {
        public Section {
            blocks = List.copyOf(blocks);
        }
    }

    /** What a section is made of. */
    public sealed interface Block permits Paragraph, Bullets, Facts, Table, Entries, Figure {}

    /**
     * Running text.
     *
     * @param weighty whether it is set so that nobody misses it
     */
    public record Paragraph(String text, boolean weighty) implements Block {}

    /** Sentences of equal rank. */
    public record Bullets(List<String> items) implements Block {
        public Bullets {
            items = List.copyOf(items);
        }
    }

    /** Figures or facts, each with its name. */
    public record Facts(List<Fact> facts) implements Block {
        public Facts {
            facts = List.copyOf(facts);
        }
    }

    /**
     * A named figure or fact.
     *
     * @param value with unit and interval
     * @param remark what must be known to read it rightly; empty for nothing
     */
    public record Fact(String name, String value, String remark) {}

    /**
     * A table of short texts and figures.
     *
     * @param caption what it shows
     * @param columns one at least
     * @param rows each with as many cells as there are columns
     */
    public record Table(String caption, List<Column> columns, List<List<String>> rows) implements Block {
        public Table {
            columns = List.copyOf(columns);
            rows = rows.stream().map(List::copyOf).toList();
            for (List<String> row : rows) {
                if (row.size() != columns.size()) {
                    throw new IllegalArgumentException(
                            "table \"" + caption + "\": a row of " + row.size() + " cells under " + columns.size());
                }
            }
        }
    }

    /**
     * A column of a table.
     *
     * @param head its heading
     * @param figures whether it holds figures, which are set to the right
     * @param share of the width, against the shares of the others; more than 0
     */
    public record Column(String head, boolean figures, double share) {}

    /** What happened or was written down, in order of time. */
    public record Entries(List<Entry> entries) implements Block {
        public Entries {
            entries = List.copyOf(entries);
        }
    }

    /**
     * One happening.
     *
     * @param mark by which a chart names it; empty for none
     * @param time in words
     * @param text what somebody wrote or an alarm said
     */
    public record Entry(String mark, String time, String text) {}

    /**
     * A picture.
     *
     * @param caption what it shows and how it is read
     */
    public record Figure(Drawing drawing, String caption) implements Block {}
}
