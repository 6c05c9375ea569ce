package org.bankfire.daemon.report;

import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.Prediction.Idle;
import org.bankfire.analysis.prediction.Prediction.Point;

/** A prediction in words and few numbers. */
public final class PredictionText {
    private static final double PA_PER_BAR = 1e5;
    private static final int NAME_WIDTH = 22;
    /** A mixture this close to 1 is neither rich nor lean to a builder. */
    private static final double ABOUT_ONE = 0.03;
    /** Carbon monoxide worth a word, mole fraction: 0.1 %. */
    private static final double MUCH_CARBON_MONOXIDE = 1e-3;

    private final StringBuilder text = new StringBuilder();

    private PredictionText() {}

    /**
     * Writes a prediction.
     *
     * @param forge what was predicted
     * @param prediction of it
     * @param gasPricePerKg NaN when none is known
     * @param currency of the price
     */
    public static String of(ForgeDescription forge, Prediction prediction, double gasPricePerKg, String currency) {
        PredictionText lines = new PredictionText();
        Point last = prediction.curve().get(prediction.curve().size() - 1);
        lines.text
                .append(forge.name())
                .append(", as described: ")
                .append(forge.burner().fuel().name())
                .append(", jet ")
                .append(Figures.rounded(forge.burner().jetDiameterM() * 1e3, 3))
                .append(" mm, ")
                .append(bar(last.gaugePa()))
                .append(" at the end, ambient ")
                .append(Figures.fixed(Figures.celsius(forge.ambientK()), 0))
                .append(" °C\n\n");
        lines.flame(prediction, gasPricePerKg, currency);
        lines.heat(forge, prediction);
        lines.idle(prediction.idle(), gasPricePerKg, currency);
        lines.ledger(last.ledgerW(), last.timeS());
        lines.bar(prediction);
        lines.text
                .append('\n')
                .append(
                        prediction.members() == 0
                                ? "Without a band: ask for members to see how far to trust it.\n"
                                : "Intervals hold 95 % of the " + prediction.members()
                                        + " forges drawn from what the description leaves open. A gap in the lining or"
                                        + " a wrong figure lies outside them.\n");
        return lines.text.toString();
    }

    private void flame(Prediction prediction, double price, String currency) {
        double mixture = prediction.flame().mixture();
        String kind = mixture < 1 - ABOUT_ONE ? "rich" : mixture > 1 + ABOUT_ONE ? "lean" : "neither rich nor lean";
        line("Heat input", Figures.fixed(prediction.flame().heatInputW() / 1e3, 1) + " kW");
        line("Gas", hourly(prediction.flame().kgPerHour(), price, currency));
        boolean within = mixture > ForgeParameters.MIXTURE.low() && mixture < ForgeParameters.MIXTURE.high();
        line(
                "Mixture",
                Figures.fixed(mixture, 2) + ", " + kind + (within ? "" : ", or beyond: no burner runs like this"));
        if (prediction.flame().carbonMonoxideFraction() > MUCH_CARBON_MONOXIDE) {
            line(
                    "Carbon monoxide",
                    Figures.fixed(prediction.flame().carbonMonoxideFraction() * 100, 1)
                            + " % in the gas that leaves the chamber: ventilate, and have a CO alarm");
        }
    }

    private void heat(ForgeDescription forge, Prediction prediction) {
        Band time = prediction.timeToTargetS();
        line(
                Figures.fixed(Figures.celsius(forge.targetK()), 0) + " °C after",
                (Double.isNaN(time.value()) ? "not within this programme" : Figures.duration(time.value()))
                        + (!Double.isFinite(time.low95())
                                ? ""
                                : " (" + Figures.duration(time.low95()) + " to " + Figures.duration(time.high95())
                                        + ")"));
        line("Steady, soaked", degrees(prediction.steadyK()));
        line("Shell then", degrees(prediction.shellK()));
        line(
                "Loss coefficient",
                Figures.fixed(prediction.lossWPerK().value(), 2)
                        + " W/K"
                        + between(prediction.lossWPerK(), 2)
                        + ", lining and openings, soaked, at the target");
    }

    private void idle(Idle idle, double price, String currency) {
        if (Double.isNaN(idle.soakedPa().value())) {
            line("Holding the target", "no pressure up to 4 bar holds it");
            return;
        }
        if (!Double.isNaN(idle.firstPa().value())) {
            line(
                    "Holding it at first",
                    bar(idle.firstPa().value()) + ", " + hourly(idle.firstKgPerHour(), price, currency));
        }
        Band pressure = idle.soakedPa();
        String interval = Double.isNaN(pressure.low95())
                ? ""
                : " (" + bar(pressure.low95()) + " to "
                        + (Double.isFinite(pressure.high95()) ? bar(pressure.high95()) : "more than 4 bar") + ")";
        line(
                "Holding it soaked",
                bar(pressure.value()) + interval + ", "
                        + hourly(idle.soakedKgPerHour().value(), price, currency));
    }

    private void ledger(HeatLedger ledger, double atS) {
        if (ledger.input() <= 0) {
            return;
        }
        List<String> parts = List.of(
                share("flue", ledger.flue(), ledger),
                share("lining", ledger.lining(), ledger),
                share("openings", ledger.openings(), ledger),
                share("stock", ledger.stock(), ledger),
                share("stored", ledger.stored(), ledger));
        line("Heat after " + Figures.duration(atS), String.join(", ", parts));
    }

    private void bar(Prediction prediction) {
        prediction
                .bar()
                .ifPresent(bar -> line(
                        "Bar soaked",
                        (Double.isNaN(bar.soakS())
                                        ? "not within this programme"
                                        : "in " + Figures.duration(bar.soakS()))
                                + ", to the centre"));
    }

    private void line(String name, String value) {
        text.append(String.format(Locale.ROOT, "%-" + NAME_WIDTH + "s %s%n", name, value));
    }

    private static String share(String name, double watts, HeatLedger ledger) {
        return name + " " + Figures.fixed(100 * watts / ledger.input(), 0) + " %";
    }

    private static String degrees(Band kelvin) {
        Band celsius = Figures.celsius(kelvin);
        return Figures.fixed(celsius.value(), 0) + " °C" + between(celsius, 0);
    }

    private static String between(Band band, int digits) {
        return Double.isNaN(band.low95())
                ? ""
                : " (" + Figures.fixed(band.low95(), digits) + " to " + Figures.fixed(band.high95(), digits) + ")";
    }

    private static String bar(double pascal) {
        return Figures.fixed(pascal / PA_PER_BAR, 2) + " bar";
    }

    private static String hourly(double kgPerHour, double price, String currency) {
        String gas = Figures.fixed(kgPerHour, 2) + " kg/h";
        return Double.isNaN(price) ? gas : gas + " (" + Figures.fixed(kgPerHour * price, 2) + " " + currency + "/h)";
    }
}
