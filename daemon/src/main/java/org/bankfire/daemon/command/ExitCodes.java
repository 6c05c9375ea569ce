package org.bankfire.daemon.command;

/** What a command ends with. */
final class ExitCodes {
    static final int DONE = 0;
    static final int FAILED = 1;
    /** Wrong usage or configuration. */
    static final int USAGE = 2;

    private ExitCodes() {}
}
