package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.fit.Bounds;
import org.bankfire.analysis.fit.FitParameter;
import org.bankfire.analysis.fit.Prior;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;

/**
 * What a burn's fit looks for, in the order of the problem's parameters. How flame, draught and probe behave is fitted
 * too, for a forge differs in that from its description more than in anything else.
 */
enum Unknown {
    HEAT_RELEASE("heatReleaseFactor", "1", "weigh the cylinder before and after a burn"),
    MIXTURE("mixture", "1", "hold the forge at two temperatures far apart, or measure the flue gas"),
    CONDUCTIVITY("liningConductivityScale", "1", "hold an idle until the shell is steady"),
    CAPACITY("liningCapacityScale", "1", "record a cool-down of a quarter of an hour with the gas off"),
    OPENING("effectiveOpeningArea", "m2", "pull the plug at heat for five minutes, and note when"),
    LAG("sensorLag", "s", "read more often, and record lighting and gas off"),
    CONVECTION("flameConvection", "1", "turn the gas far down and up again while the lining is hot"),
    GLOW("flameEmissivity", "1", "nothing a thermometer sees: it goes with the convection"),
    DRAUGHT("draught", "1", "record a cool-down with the front closed by a brick, and one with it open"),
    PROBE("probeConvection", "1", "look at the lining with a second thermometer while the burner runs");

    private final String code;
    private final String unit;
    private final String remedy;

    Unknown(String code, String unit, String remedy) {
        this.code = code;
        this.unit = unit;
        this.remedy = remedy;
    }

    /** Place among the problem's parameters. */
    int place() {
        return ALL.indexOf(this);
    }

    /** Name in results. */
    String code() {
        return code;
    }

    /** Unit in results; 1 for a pure number. */
    String unit() {
        return unit;
    }

    /** What would tell more of it. */
    String remedy() {
        return remedy;
    }

    private static final List<Unknown> ALL = List.of(values());
    private static final double SCALE = 0.1;

    /** The parameters of a problem, begun at the middle of what is known beforehand. */
    static List<FitParameter> parameters(ForgeDescription forge, Knowledge knowledge) {
        ForgeParameters base = ForgeParameters.of(forge);
        double openingM2 = nominalOpeningM2(forge);
        List<FitParameter> parameters = new ArrayList<>();
        for (Unknown unknown : values()) {
            double middle = switch (unknown) {
                case HEAT_RELEASE -> knowledge.heatRelease();
                case MIXTURE -> base.mixture();
                case OPENING -> openingM2;
                case LAG -> Math.max(LEAST_LAG_S, base.probeLagS());
                case DRAUGHT -> base.draught();
                case CONDUCTIVITY, CAPACITY, CONVECTION, GLOW, PROBE -> 1;
            };
            Bounds.Between bounds = bounds(unknown, openingM2);
            parameters.add(FitParameter.of(unknown.code, unknown.unit, inside(bounds, middle), SCALE * middle)
                    .within(bounds)
                    .knownAs(new Prior.LogNormal(middle, knowledge.deviation(unknown))));
        }
        return parameters;
    }

    /** A bare junction; a lag of nothing has no logarithm. */
    private static final double LEAST_LAG_S = 0.3;

    /** A description may lie on the end of a range, where a solver cannot begin. */
    private static double inside(Bounds.Between bounds, double middle) {
        double margin = 1e-3 * (bounds.high() - bounds.low());
        return middle < bounds.high() && middle > bounds.low()
                ? middle
                : Math.min(bounds.high() - margin, Math.max(bounds.low() + margin, middle));
    }

    private static Bounds.Between bounds(Unknown unknown, double openingM2) {
        return switch (unknown) {
            case MIXTURE -> new Bounds.Between(ForgeParameters.MIXTURE.low(), ForgeParameters.MIXTURE.high());
            case OPENING -> new Bounds.Between(0, ForgeParameters.OPENING.high() * openingM2);
            case LAG -> new Bounds.Between(0, ForgeDescription.PROBE_LAG_S.high());
            case CONVECTION, GLOW, PROBE ->
                new Bounds.Between(ForgeParameters.EXCHANGE.low(), ForgeParameters.EXCHANGE.high());
            case DRAUGHT -> new Bounds.Between(ForgeParameters.DRAUGHT.low(), ForgeParameters.DRAUGHT.high());
            case HEAT_RELEASE, CONDUCTIVITY, CAPACITY ->
                new Bounds.Between(ForgeParameters.FACTOR.low(), ForgeParameters.FACTOR.high());
        };
    }

    /** Effective opening with the plug in; of a forge without any opening, a crack. */
    static double nominalOpeningM2(ForgeDescription forge) {
        double openingM2 = new ForgeModel(forge, ForgeParameters.of(forge)).effectiveOpeningM2(true);
        return Math.max(openingM2, 1e-5);
    }

    /** The forge's parameters at a point of the problem; a step over a range's end, as derivatives take it, stays on it. */
    static ForgeParameters forgeParameters(double[] at, double nominalOpeningM2) {
        return new ForgeParameters(
                ForgeParameters.FACTOR.nearest(at[HEAT_RELEASE.place()]),
                ForgeParameters.MIXTURE.nearest(at[MIXTURE.place()]),
                ForgeParameters.FACTOR.nearest(at[CONDUCTIVITY.place()]),
                ForgeParameters.FACTOR.nearest(at[CAPACITY.place()]),
                ForgeParameters.OPENING.nearest(at[OPENING.place()] / nominalOpeningM2),
                ForgeDescription.PROBE_LAG_S.nearest(at[LAG.place()]),
                ForgeParameters.EXCHANGE.nearest(at[CONVECTION.place()]),
                ForgeParameters.EXCHANGE.nearest(at[GLOW.place()]),
                1,
                ForgeParameters.DRAUGHT.nearest(at[DRAUGHT.place()]),
                ForgeParameters.EXCHANGE.nearest(at[PROBE.place()]));
    }
}
