package org.bankfire.daemon.testbed;

import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.VirtualForge;

/**
 * A burn of a virtual forge that somebody tends while it goes on: what its instruments say is recorded by the second, and the
 * regulator is turned until its gauge shows what is wanted. Not safe for use by several threads.
 */
public final class TendedBurn {
    private static final double KELVIN = 273.15;
    /** Somebody who reads the gauge, turns, and reads again. */
    private static final int TURNS = 3;

    private static final int LOOKS = 4;

    private final VirtualForge forge;
    private final BurnRecorder recorder = new BurnRecorder();
    private double timeS;
    private double setPa;
    private double gaugePa;
    private double chamberC;

    /** A cold forge that is lit at a low pressure. */
    public TendedBurn(ForgeTraits traits, long seed) {
        forge = new VirtualForge(traits, seed);
        setPa = VirtualForge.LIGHTING_PA;
        forge.setPressure(setPa);
        forge.openGas();
        forge.light();
        goOn(30);
    }

    /** Lets whole seconds pass. */
    public void goOn(int seconds) {
        for (int i = 0; i < seconds; i++) {
            forge.step(1);
            timeS++;
            Observation seen = forge.observe();
            recorder.chamber(timeS, seen.chamberC() + KELVIN);
            recorder.gas(timeS, seen.gasPa());
            recorder.ambient(timeS, seen.ambientC() + KELVIN);
            chamberC = seen.chamberC();
            gaugePa = seen.gasPa();
        }
    }

    /** Turns the regulator until the gauge shows a pressure, Pa; takes some seconds. */
    public void turnTo(double pascal) {
        setPa += pascal - gaugePa;
        for (int turn = 0; turn < TURNS; turn++) {
            forge.setPressure(Math.max(0, setPa));
            goOn(3);
            double sum = 0;
            for (int look = 0; look < LOOKS; look++) {
                goOn(1);
                sum += gaugePa;
            }
            setPa += pascal - sum / LOOKS;
        }
        forge.setPressure(Math.max(0, setPa));
    }

    /** What was recorded so far. */
    public BurnRecord record() {
        return recorder.record();
    }

    /** Since the first reading, s. */
    public double timeS() {
        return timeS;
    }

    /** What the chamber thermocouple says, °C. */
    public double chamberC() {
        return chamberC;
    }

    /** The forge itself, which nobody sees. */
    public VirtualForge forge() {
        return forge;
    }
}
