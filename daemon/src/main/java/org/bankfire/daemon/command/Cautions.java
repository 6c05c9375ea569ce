package org.bankfire.daemon.command;

/** What everybody who starts the daemon must have read once. */
final class Cautions {
    static final String TEXT = """
            Bankfire is an instrument and an alarm, not a burner safety control. It shuts nothing off and is
            certified for nothing; a listed flame-safeguard valve does that.
              - Carbon monoxide: work with ventilation and a CO alarm. Propane is heavier than air and pools:
                no pits, no basements.
              - After a flame-out: close the gas at the cylinder, let the chamber air out, only then relight.
              - Ceramic fibre and silica dust, hot surfaces, ultraviolet and glare, fumes of galvanised steel.
              - Linings of unknown make: the limit that you set is a guess. Fire slowly the first time and
                watch the shell.
              - Local codes, the gas supplier's rules and licensed practice come first.
            """;

    private Cautions() {}
}
