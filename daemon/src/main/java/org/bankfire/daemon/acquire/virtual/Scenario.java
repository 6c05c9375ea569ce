package org.bankfire.daemon.acquire.virtual;

import java.util.List;

/**
 * A scripted burn of the virtual forge that begins anew when it ends, and the hand that may interfere at any time.
 *
 * <p>The script: 20 s of nothing, light at low pressure, heat up at 1 bar for a quarter of an hour, then bars in and out,
 * idling, bars again with the plug pulled once, gas off, ten minutes of cooling, and so on. When a hand puts out the flame
 * or touches the valve the script stands still until the hand lights again: the demo undoes nothing that its user did.
 */
public final class Scenario {
    /** A step of the script. */
    private record Move(double atS, Act act) {}

    /** What the script can do beyond what a hand can. */
    private enum Act {
        LIGHT,
        FULL,
        WORK,
        IDLE,
        BAR_IN,
        BAR_OUT,
        PLUG_OUT,
        PLUG_IN,
        OFF
    }

    /** When the script is begun again, s. */
    static final double LENGTH_S = 4_320;

    private static final List<Move> MOVES = List.of(
            new Move(20, Act.LIGHT),
            new Move(60, Act.FULL),
            new Move(900, Act.WORK),
            new Move(960, Act.BAR_IN),
            new Move(1_180, Act.BAR_OUT),
            new Move(1_260, Act.BAR_IN),
            new Move(1_480, Act.BAR_OUT),
            new Move(1_560, Act.IDLE),
            new Move(1_980, Act.WORK),
            new Move(2_100, Act.BAR_IN),
            new Move(2_320, Act.BAR_OUT),
            new Move(2_400, Act.PLUG_OUT),
            new Move(2_410, Act.BAR_IN),
            new Move(2_640, Act.BAR_OUT),
            new Move(2_650, Act.PLUG_IN),
            new Move(2_760, Act.IDLE),
            new Move(3_300, Act.WORK),
            new Move(3_360, Act.BAR_IN),
            new Move(3_580, Act.BAR_OUT),
            new Move(3_700, Act.OFF));

    /** Less than this is not enough for another loop of the script, kg. */
    private static final double LEAST_CONTENTS_KG = 1.5;

    private final VirtualForge forge;
    private double clockS;
    private int next;
    private boolean held;

    public Scenario(VirtualForge forge) {
        this.forge = forge;
    }

    /** Lets {@code dtS} pass, above 0 to 60 s, and makes the moves that fall due in it. */
    public void advance(double dtS) {
        forge.step(dtS);
        if (held) {
            return;
        }
        clockS += dtS;
        while (next < MOVES.size() && MOVES.get(next).atS() <= clockS) {
            make(MOVES.get(next).act());
            next++;
        }
        if (clockS >= LENGTH_S) {
            clockS = 0;
            next = 0;
        }
    }

    private void make(Act act) {
        switch (act) {
            case LIGHT -> {
                if (forge.contentsKg() < LEAST_CONTENTS_KG) {
                    forge.changeCylinder();
                }
                forge.setPressure(VirtualForge.LIGHTING_PA);
                forge.openGas();
                forge.light();
            }
            case FULL -> forge.setPressure(VirtualForge.FULL_PA);
            case WORK -> forge.setPressure(VirtualForge.WORK_PA);
            case IDLE -> forge.setPressure(VirtualForge.IDLE_PA);
            case BAR_IN -> forge.stockIn();
            case BAR_OUT -> forge.stockOut();
            case PLUG_OUT -> forge.pullPlug();
            case PLUG_IN -> forge.replacePlug();
            case OFF -> forge.closeGas();
        }
    }

    /** Does what a hand does, at once. */
    public void trigger(ForgeAction action) {
        switch (action) {
            case PUT_OUT_THE_FLAME -> {
                forge.putOut();
                held = true;
            }
            case RELIGHT -> {
                forge.openGas();
                forge.light();
                held = false;
            }
            case STOCK_IN -> forge.stockIn();
            case STOCK_OUT -> forge.stockOut();
            case PULL_THE_PLUG -> forge.pullPlug();
            case PLUG_IN -> forge.replacePlug();
            case TURN_DOWN_TO_IDLE -> forge.setPressure(VirtualForge.IDLE_PA);
            case TURN_UP -> forge.setPressure(VirtualForge.FULL_PA);
            case GAS_OFF -> {
                forge.closeGas();
                held = true;
            }
            case OPEN_THE_GAS -> {
                forge.openGas();
                held = true;
            }
            case BREAK_THE_THERMOCOUPLE -> forge.breakThermocouple();
            case MEND_THE_THERMOCOUPLE -> forge.mendThermocouple();
        }
    }

    /** Whether the script waits for the hand to light again. */
    public boolean isHeld() {
        return held;
    }

    /** The forge that it moves. */
    public VirtualForge forge() {
        return forge;
    }
}
