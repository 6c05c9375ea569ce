package org.bankfire.daemon.acquire.virtual;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a hand can do to the virtual forge at any time. */
public enum ForgeAction {
    /** The flame goes out and the gas keeps flowing. */
    PUT_OUT_THE_FLAME,
    /** Opens the gas, if it is closed, and lights it. */
    RELIGHT,
    /** Puts a cold bar in; the bar that was in is taken out. */
    STOCK_IN,
    STOCK_OUT,
    /** Opens the rear opening. */
    PULL_THE_PLUG,
    PLUG_IN,
    /** Sets the regulator; a closed valve stays closed. */
    TURN_DOWN_TO_IDLE,
    TURN_UP,
    GAS_OFF,
    /** Opens the gas and lights nothing. */
    OPEN_THE_GAS,
    /** The chamber thermocouple's circuit opens. */
    BREAK_THE_THERMOCOUPLE,
    MEND_THE_THERMOCOUPLE;

    /** Name in words with hyphens, such as {@code put-out-the-flame}. */
    public String id() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Name for a button, such as {@code put out the flame}. */
    public String words() {
        return id().replace('-', ' ');
    }

    public static Optional<ForgeAction> ofId(String id) {
        return Arrays.stream(values()).filter(action -> action.id().equals(id)).findFirst();
    }

    /** The ids in the order of the buttons. */
    public static List<String> ids() {
        return Arrays.stream(values()).map(ForgeAction::id).toList();
    }
}
