package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Currency;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.jspecify.annotations.Nullable;

/** Reads one {@code [[forge]]}. */
final class ForgeReader {
    /** A 6 mm metal sheath in hot gas. Common practice, no source. */
    static final double DEFAULT_PROBE_LAG_S = 12;
    /** Ambient unless told: that of predictions. */
    static final double DEFAULT_AMBIENT_C = 20;
    /** How far the working limit stays below the lining's. Common practice, no source. */
    static final double CHAMBER_HIGH_MARGIN_K = 20;

    private static final double ZERO_CELSIUS_K = 273.15;
    private static final MonitorSettings DEFAULTS = MonitorSettings.defaults();

    // Wide enough for any forge; narrow enough to find a slip of the decimal point. Common practice, no source.
    private static final Range LIMIT_K = new Range(373.15, 2073.15);
    private static final Range SHELL_K = new Range(303.15, 873.15);
    private static final Range GAS_LIMIT_PA = new Range(1e3, 2e6);
    private static final Range GAS_ON_PA = new Range(10, 1e5);
    private static final Range NO_DATA_S = new Range(0.5, 600);
    private static final Range LIGHTING_S = new Range(1, 600);
    private static final Range RATED_STOCK = new Range(0, 0.5);
    // Narrower no thermocouple's noise lets be told; wider nobody calls steady: 0.1 to 30 K/min.
    private static final Range STEADY_BAND_K_PER_S = new Range(
            Dimension.HEATING_RATE.parse("0.1 K/min").si(),
            Dimension.HEATING_RATE.parse("30 K/min").si());
    private static final Range DEADBAND_K = new Range(1, 200);

    private static final double KG_PER_LB = 0.45359237;
    private static final Pattern PRICE = Pattern.compile("(\\d{1,9}(?:\\.\\d{1,20})?)\\s*([A-Z]{3})\\s*/\\s*(kg|lb)");
    // From the strongest currency by the ton to the weakest. Common practice, no source.
    private static final Range PRICES = new Range(1e-3, 1e6);
    private static final String PRICE_ALLOWED = "a price per kg or lb from 0.001 to 1000000, as in \"3.20 EUR/kg\"";
    private static final String CURRENCY_ALLOWED = "a currency by its ISO 4217 code, as in \"EUR\"";
    private static final String SIZE_EXAMPLE = "200 mm";

    private final Section section;
    private final Problems problems;
    private String id = "";

    ForgeReader(Section section, Problems problems) {
        this.section = section;
        this.problems = problems;
    }

    /** The forge's id, empty while it is not known; right even when something else of the forge is wrong. */
    String id() {
        return id;
    }

    /** The forge, or null after a problem. */
    @Nullable
    ForgeConfig read() {
        id = section.requiredText("id", "the forge's id: letters, digits, '-', '.' and '_'");
        if (!id.isEmpty()) {
            section.check("id", id, text -> new Channel(text, ChannelNames.CHAMBER));
        }
        String name = section.text("name", "a name for the reader", id);
        double targetC = section.celsius("target", ForgeDescription.TARGET_K, "1150 degC", DEFAULTS.targetC());
        double ambientC = section.celsius("ambient", ForgeDescription.AMBIENT_K, "20 degC", DEFAULT_AMBIENT_C);
        double altitudeM = section.quantity("altitude", Dimension.LENGTH, ForgeDescription.ALTITUDE_M, "250 m", 0);
        BurnerReader.Result burner = BurnerReader.read(section.requiredTable("burner"));
        Section chamber = section.requiredTable("chamber");
        double[] insideM = sizes(chamber, "inside", "width, height and depth", 3, ForgeDescription.CHAMBER_SIDE_M);
        double lagS = chamber.quantity(
                "probe-lag", Dimension.DURATION, ForgeDescription.PROBE_LAG_S, "12 s", DEFAULT_PROBE_LAG_S);
        chamber.refuseOthers();
        List<Layer> lining = new LiningReader(problems).read(section);
        List<Opening> openings = openings(insideM);
        Price price = price();
        List<ChannelCalibration> channels = new ChannelsReader(problems).read(section.tables("channel"));
        MonitorSettings monitor = monitor(targetC, lining, price.perKg())
                .with(ConditionsReader.read(
                        section, burner == null ? Fuel.PROPANE : burner.burner().fuel(), channels));
        section.refuseOthers();
        return section.build(() -> {
            if (burner == null) {
                throw new IllegalArgumentException("the burner cannot be used");
            }
            ForgeDescription description = new ForgeDescription(
                    id,
                    name,
                    targetC + ZERO_CELSIUS_K,
                    ambientC + ZERO_CELSIUS_K,
                    altitudeM,
                    burner.burner(),
                    insideM[0],
                    insideM[1],
                    insideM[2],
                    lagS,
                    lining,
                    openings);
            return new ForgeConfig(description, monitor, channels, price.currency(), burner.throat());
        });
    }

    /** So many lengths; NaN for each that is missing or wrong. */
    private double[] sizes(Section of, String key, String what, int count, Range rangeM) {
        String allowed = "a list of " + what + ", each " + Dimension.LENGTH.allowed(rangeM, SIZE_EXAMPLE);
        double[] sizesM = new double[count];
        Arrays.fill(sizesM, Double.NaN);
        if (!of.has(key)) {
            of.missing(key, allowed);
            return sizesM;
        }
        if (!(of.node(key) instanceof Node.Items list) || list.items().size() != count) {
            of.refuse(key, allowed);
            return sizesM;
        }
        for (int i = 0; i < count; i++) {
            sizesM[i] =
                    of.quantity(list.items().get(i), of.pathOf(key) + "." + i, Dimension.LENGTH, rangeM, SIZE_EXAMPLE);
        }
        return sizesM;
    }

    private List<Opening> openings(double[] insideM) {
        List<Opening> openings = new ArrayList<>();
        Set<String> names = new HashSet<>();
        double sumM2 = 0;
        for (Section of : section.tables("opening")) {
            String name = of.requiredText("name", "a name of its own, as in \"front\"");
            if (!name.isEmpty() && !names.add(name)) {
                of.refuse("name", "there is an opening of this name already");
            }
            double[] sizeM = sizes(of, "size", "width and height", 2, Opening.SIDE_M);
            boolean plugged = plugged(of);
            of.refuseOthers();
            if (Double.isFinite(sizeM[0]) && Double.isFinite(sizeM[1])) {
                refuseLargerThanWall(of, sizeM, insideM);
                sumM2 += sizeM[0] * sizeM[1];
            }
            Opening opening = of.build(() -> new Opening(name, sizeM[0], sizeM[1], plugged));
            if (opening != null) {
                openings.add(opening);
            }
        }
        double wallM2 = 2 * (insideM[0] * insideM[1] + insideM[0] * insideM[2] + insideM[1] * insideM[2]);
        if (sumM2 >= wallM2) {
            section.refuse("opening", "all openings together must be smaller than the chamber's walls");
        }
        return openings;
    }

    /** No wall of the chamber is larger than its two longest sides. */
    private static void refuseLargerThanWall(Section of, double[] sizeM, double[] insideM) {
        double[] sorted = insideM.clone();
        Arrays.sort(sorted);
        double longM = Math.max(sizeM[0], sizeM[1]);
        double shortM = Math.min(sizeM[0], sizeM[1]);
        if (longM > sorted[2] || shortM > sorted[1]) {
            of.refuse("size", "an opening is no larger than the wall that it is in");
        }
    }

    private static boolean plugged(Section of) {
        Node node = of.node("plug");
        if (node == null) {
            return false;
        }
        if (node instanceof Node.Scalar scalar) {
            if (scalar.value() instanceof Boolean in) {
                return in;
            }
            if (scalar.value().equals("in") || scalar.value().equals("out")) {
                return scalar.value().equals("in");
            }
        }
        of.refuse("plug", "true or \"in\" when a plug closes it, false or \"out\" when not");
        return false;
    }

    private MonitorSettings monitor(double targetC, List<Layer> lining, double pricePerKg) {
        double layerC = lining.isEmpty()
                ? DEFAULTS.chamberLimitC()
                : Section.celsius(lining.get(0).material().serviceLimitK());
        double limitC = section.celsius("chamber-limit", LIMIT_K, "1260 degC", layerC);
        if (Double.isNaN(limitC) && !section.has("chamber-limit") && !lining.isEmpty()) {
            section.missing(
                    "chamber-limit",
                    "highest temperature for the lining, as in \"1000 degC\", because nobody has told the service-limit of "
                            + lining.get(0).material().name());
        }
        double highC = section.celsius("chamber-high", LIMIT_K, "1240 degC", limitC - CHAMBER_HIGH_MARGIN_K);
        checkLimits(targetC, limitC, highC, lining.isEmpty() ? Double.NaN : layerC);
        return new MonitorSettings(
                        targetC,
                        highC,
                        limitC,
                        section.celsius("shell-limit", SHELL_K, "250 degC", DEFAULTS.shellLimitC()),
                        section.quantity("gas-limit", Dimension.PRESSURE, GAS_LIMIT_PA, "4 bar", DEFAULTS.gasLimitPa()),
                        section.quantity("gas-on", Dimension.PRESSURE, GAS_ON_PA, "10 mbar", DEFAULTS.gasOnPa()),
                        section.quantity(
                                "no-data-after", Dimension.DURATION, NO_DATA_S, "3 s", DEFAULTS.noDataAfterS()),
                        section.quantity(
                                "lighting-time", Dimension.DURATION, LIGHTING_S, "13.5 s", DEFAULTS.lightingTimeS()),
                        section.quantity(
                                "temperature-deadband",
                                Dimension.TEMPERATURE_DIFFERENCE,
                                DEADBAND_K,
                                "12 K",
                                DEFAULTS.temperatureDeadbandK()),
                        pricePerKg)
                .withRatedStock(section.quantity(
                        "rated-stock", Dimension.RATIO, RATED_STOCK, "8 %", DEFAULTS.ratedStockShare()))
                .withSteadyBand(section.quantity(
                        "steady-band",
                        Dimension.HEATING_RATE,
                        STEADY_BAND_K_PER_S,
                        "2 K/min",
                        DEFAULTS.steadyBandKPerS()));
    }

    private void checkLimits(double targetC, double limitC, double highC, double layerC) {
        if (targetC >= limitC) {
            if (section.has("target") || section.has("chamber-limit")) {
                String key = section.has("target") ? "target" : "chamber-limit";
                section.refuse(
                        key,
                        "the chamber-limit, " + Decimal.write(limitC) + " degC, must be above the target, "
                                + Decimal.write(targetC) + " degC");
            } else {
                section.missing(
                        "target",
                        "forging temperature below the chamber-limit of " + Decimal.write(limitC)
                                + " degC that the lining sets, as in \"1000 degC\"");
            }
        } else if (targetC >= highC) {
            section.doubt(
                    section.has("chamber-high") ? "chamber-high" : "target",
                    "chamber-high, " + Decimal.write(highC) + " degC, is not above the target, "
                            + Decimal.write(targetC) + " degC: the alarm will sound while you work",
                    "");
        }
        if (highC > limitC) {
            section.refuse("chamber-high", "no higher than the chamber-limit, " + Decimal.write(limitC) + " degC");
        }
        if (limitC > layerC) {
            section.doubt(
                    "chamber-limit", "above the service-limit of the hot face, " + Decimal.write(layerC) + " degC", "");
        }
    }

    private Price price() {
        String currency = section.text("currency", CURRENCY_ALLOWED, "");
        if (!currency.isEmpty() && !isCurrency(currency)) {
            section.refuse("currency", CURRENCY_ALLOWED);
        }
        String text = section.text("gas-price", PRICE_ALLOWED);
        if (text == null) {
            return new Price(Double.NaN, currency);
        }
        Matcher matcher = PRICE.matcher(text);
        if (!matcher.matches()
                || !PRICES.contains(Double.parseDouble(matcher.group(1)))
                || !isCurrency(matcher.group(2))) {
            section.refuse("gas-price", PRICE_ALLOWED);
            return new Price(Double.NaN, currency);
        }
        if (!currency.isEmpty() && !currency.equals(matcher.group(2))) {
            section.refuse("gas-price", "in the currency " + currency + " that stands beside it");
        }
        double price = Double.parseDouble(matcher.group(1));
        return new Price(matcher.group(3).equals("lb") ? price / KG_PER_LB : price, matcher.group(2));
    }

    private static boolean isCurrency(String code) {
        return Currency.getAvailableCurrencies().stream()
                .anyMatch(known -> known.getCurrencyCode().equals(code));
    }

    /** A gas price; NaN when none is told. */
    private record Price(double perKg, String currency) {}
}
