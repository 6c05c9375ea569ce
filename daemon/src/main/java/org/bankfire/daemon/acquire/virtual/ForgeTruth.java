package org.bankfire.daemon.acquire.virtual;

/** What is true of a virtual forge, for the judgement of whoever tries to find it from readings. Not safe for several threads. */
public final class ForgeTruth {
    private static final double STEFAN_BOLTZMANN = 5.670374e-8;
    /** Flue gas per hot face and second at which convection and gas share are stated, kg/(s m²). */
    static final double REFERENCE_FLUX = 0.018;

    private final ForgeTraits traits;
    private final LayeredWall wall;
    private final Holes holes;
    private final GasSupply supply;
    private final BurntGas burnt;

    public ForgeTruth(ForgeTraits traits) {
        this.traits = traits;
        wall = new LayeredWall(traits);
        holes = new Holes(traits);
        supply = new GasSupply(traits);
        ForgeTraits.Chamber box = traits.chamber();
        double volume = box.widthM() * box.heightM() * box.depthM();
        burnt = new BurntGas(
                traits.burner().mixture(),
                traits.ambientC(),
                // Mean length of a ray: 3.6 V/A.
                3.6 * volume / box.surfaceM2(),
                traits.exchange().gasEmissivityFactor(),
                traits.airPressurePa());
    }

    BurntGas burnt() {
        return burnt;
    }

    /**
     * Loss of the soaked forge with its plug in: heat through the lining to the room and radiation out of the openings, over
     * the difference of hot face and ambient, W/K.
     *
     * @param chamberC of the hot face, above ambient
     */
    public double lossWPerK(double chamberC) {
        return lossWPerK(chamberC, true);
    }

    /** The same with the plug in or out, W/K. */
    public double lossWPerK(double chamberC, boolean plugIn) {
        double over = chamberC - traits.ambientC();
        if (!(over > 0)) {
            throw new IllegalArgumentException(
                    "loss at " + chamberC + " °C: must be above the ambient " + traits.ambientC() + " °C");
        }
        return (liningW(chamberC) + openingsW(chamberC, plugIn)) / over;
    }

    /** Heat through the outer face when soaked, W. */
    public double liningW(double chamberC) {
        return wall.soakedLossW(chamberC, traits.ambientC());
    }

    /** Radiation out of the openings, W. */
    public double openingsW(double chamberC, boolean plugIn) {
        return holes.blackM2(plugIn) * radiated(chamberC, traits.ambientC());
    }

    /** Area of a black hole that would radiate as the openings do, m². */
    public double effectiveOpeningM2(boolean plugIn) {
        return holes.blackM2(plugIn);
    }

    /** Air over stoichiometric air. */
    public double mixture() {
        return traits.burner().mixture();
    }

    /** Propane through the jet, kg/s. */
    public double gasFlowKgPerS(double gaugePa) {
        return supply.flow(gaugePa);
    }

    /** Set free by a kilogram of propane in the chamber, what leaves unburnt not counted, J/kg. */
    public double releasedJPerKg() {
        return burnt.releasedJPerKg();
    }

    /** Time constant of the probe, s. */
    public double probeLagS() {
        return traits.probe().lagS();
    }

    /** Convection in the chamber, W/(m² K), with so much gas through it, kg/s. */
    double convection(double throughKgS) {
        ForgeTraits.Exchange exchange = traits.exchange();
        double flux = throughKgS / traits.wallM2() / REFERENCE_FLUX;
        return exchange.stillWPerM2K() + exchange.jetWPerM2K() * Math.pow(flux, 0.8);
    }

    /** Where the hot face settles at an untouched pressure with the plug in, °C; by bisection. */
    public double steadyFaceC(double gaugePa) {
        double low = traits.ambientC();
        double high = 2_400;
        for (int i = 0; i < 50; i++) {
            double trial = (low + high) / 2;
            if (gain(trial, gaugePa) > 0) {
                low = trial;
            } else {
                high = trial;
            }
        }
        return (low + high) / 2;
    }

    /** What the flame gives a hot face over what the soaked forge loses, W. */
    private double gain(double faceC, double gaugePa) {
        double fuel = supply.flow(gaugePa);
        double driven = fuel * (1 + BurntGas.airPerFuel(mixture()));
        double low = -20;
        double high = 2_500;
        double toWall = 0;
        double grey = (1 + traits.exchange().wallEmissivity()) / 2;
        for (int i = 0; i < 50; i++) {
            double gas = (low + high) / 2;
            double draught = holes.draughtKgS(gas, driven, true);
            toWall = traits.wallM2()
                    * (convection(driven + draught) * (gas - faceC)
                            + grey * burnt.emissivity(gas) * radiated(gas, faceC));
            double flue = fuel * burnt.burntJPerKg(gas) + draught * burnt.airJPerKg(gas);
            if (flue + toWall < fuel * burnt.releasedJPerKg()) {
                low = gas;
            } else {
                high = gas;
            }
        }
        return toWall - liningW(faceC) - openingsW(faceC, true);
    }

    private static double radiated(double fromC, double toC) {
        double from = fromC + 273.15;
        double to = toC + 273.15;
        return STEFAN_BOLTZMANN * (from * from * from * from - to * to * to * to);
    }
}
