package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Fuel;

/** Air that an atmospheric burner draws in: Prigg's relation, as given in Fulford's design text. */
public final class AtmosphericBurner {
    private AtmosphericBurner() {}

    /** Air-to-fuel ratio over stoichiometric. */
    public static double mixture(Fuel fuel, double jetM, double throatM, double free) {
        return Math.sqrt(fuel.relativeDensity())
                * (throatM * Math.sqrt(free) / jetM - 1)
                / fuel.stoichiometricAirVolumes();
    }
}
