package org.bankfire.daemon.command;

import picocli.CommandLine;

/** How far a long command is, on standard error, when that is a terminal. */
final class Progress {
    private static final int WIDTH = 40;
    private static final int PERCENT = 100;

    // picocli judges by the environment and the console whether there is a terminal.
    private final boolean shown = CommandLine.Help.Ansi.AUTO.enabled();
    private final long total;
    private long shownPercent = -1;

    Progress(long total) {
        this.total = Math.max(1, total);
    }

    void show(long done) {
        if (!shown) {
            return;
        }
        long percent = Math.min(PERCENT, PERCENT * done / total);
        if (percent == shownPercent) {
            return;
        }
        shownPercent = percent;
        int marks = (int) (WIDTH * percent / PERCENT);
        System.err.print("\r" + "=".repeat(marks) + " ".repeat(WIDTH - marks) + " " + percent + " %");
    }

    /** Leaves the line. */
    void end() {
        if (shown && shownPercent >= 0) {
            System.err.println();
        }
    }
}
