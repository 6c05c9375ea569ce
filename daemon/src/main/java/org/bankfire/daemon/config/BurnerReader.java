package org.bankfire.daemon.config;

import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.bankfire.analysis.quantity.Range;
import org.jspecify.annotations.Nullable;

/** Reads {@code [forge.burner]}. */
final class BurnerReader {
    /**
     * Discharge coefficient of a drilled jet. Common practice, no source; tables of gas orifices are drawn up with 0.90
     * (NFPA 54 annex E), a bore with a sharp edge and no length has 0.6.
     */
    static final double DEFAULT_DISCHARGE = 0.85;
    /** Its standard uncertainty, so that ± two of it hold 0.75 to 0.95. Common practice, no source. */
    static final double DEFAULT_DISCHARGE_UNCERTAINTY = 0.05;

    private static final Range FRACTION = new Range(0, 1);
    private static final Range CLOSED = new Range(0, 1 - Burner.FREE_THROAT.low());
    private static final String MIXTURE_EXAMPLE = "{ propane = \"60 %\", butane = \"40 %\" }";

    private final Section section;

    private BurnerReader(Section section) {
        this.section = section;
    }

    /** The burner, or null after a problem. */
    static @Nullable Result read(Section section) {
        return new BurnerReader(section).read();
    }

    private @Nullable Result read() {
        Fuel fuel = fuel();
        double jetM = section.requiredQuantity("jet", Dimension.LENGTH, Burner.JET_M, "0.8 mm");
        double throatM = section.requiredQuantity("throat", Dimension.LENGTH, Burner.THROAT_M, "18 mm");
        double discharge = section.quantity("discharge", Dimension.RATIO, Burner.DISCHARGE, "0.85", DEFAULT_DISCHARGE);
        double uncertainty = section.quantity(
                "discharge-uncertainty",
                Dimension.RATIO,
                Burner.DISCHARGE_UNCERTAINTY,
                "0.05",
                DEFAULT_DISCHARGE_UNCERTAINTY);
        double choke = section.quantity("choke", Dimension.RATIO, CLOSED, "20 %", 0);
        double obstruction = section.quantity("obstruction", Dimension.RATIO, CLOSED, "10 %", 0);
        double heatUpPa = section.quantity(
                "heat-up-pressure", Dimension.PRESSURE, Burner.HEAT_UP_PA, "1 bar", Burner.DEFAULT_HEAT_UP_PA);
        if (throatM <= jetM) {
            section.refuse("throat", "the throat must be wider than the jet");
        }
        ThroatConfig throat = throat(choke, obstruction);
        section.refuseOthers();
        return section.build(() -> new Result(
                new Burner(fuel, jetM, throatM, discharge, uncertainty, throat.freeFraction(), heatUpPa), throat));
    }

    /** An open throat stands in after a problem. */
    private ThroatConfig throat(double choke, double obstruction) {
        if (Double.isNaN(choke) || Double.isNaN(obstruction)) {
            return ThroatConfig.OPEN;
        }
        ThroatConfig throat = new ThroatConfig(choke, obstruction);
        if (throat.freeFraction() < Burner.FREE_THROAT.low()) {
            section.refuse(
                    "obstruction",
                    "choke and obstruction must leave 5 % of the throat free; they leave "
                            + Decimal.write(100 * throat.freeFraction(), 2) + " %");
            return ThroatConfig.OPEN;
        }
        return throat;
    }

    private Fuel fuel() {
        if (section.node("fuel") instanceof Node.Table) {
            return mixture();
        }
        Map<String, Fuel> fuels = new LinkedHashMap<>();
        for (Fuel fuel : Fuel.known()) {
            fuels.put(fuel.name(), fuel);
        }
        return section.choice("fuel", fuels, Fuel.PROPANE, "or a mixture by volume, as in " + MIXTURE_EXAMPLE);
    }

    /** Propane stands in after a problem. */
    private Fuel mixture() {
        Section parts = section.table("fuel");
        if (parts == null) {
            return Fuel.PROPANE;
        }
        Map<Hydrocarbon, Double> fractions = new EnumMap<>(Hydrocarbon.class);
        for (Hydrocarbon part : Hydrocarbon.values()) {
            double fraction = parts.quantity(part.id(), Dimension.RATIO, FRACTION, "60 %", 0);
            fractions.put(part, fraction);
        }
        parts.refuseOthers();
        if (fractions.containsValue(Double.NaN)) {
            return Fuel.PROPANE;
        }
        double sum =
                fractions.values().stream().mapToDouble(Double::doubleValue).sum();
        if (!(Math.abs(sum - 1) <= Fuel.SUM_TOLERANCE)) {
            section.refuse(
                    "fuel",
                    "the parts of a mixture, by volume, must add up to 100 %, as in " + MIXTURE_EXAMPLE
                            + "; they add up to " + Decimal.write(100 * sum, 4) + " %");
            return Fuel.PROPANE;
        }
        return Fuel.mixture(fractions);
    }

    /**
     * What the table says.
     *
     * @param burner of it
     * @param throat the two figures behind the burner's free part of the throat
     */
    record Result(Burner burner, ThroatConfig throat) {}
}
