package org.bankfire.daemon.report.burn;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/**
 * What the trade calls what a fit finds.
 *
 * @param name at the head of a line
 * @param inSentence within one
 * @param meaning in a few words
 * @param unit after a figure
 * @param times the fit's figures by this
 */
record Terms(String name, String inSentence, String meaning, String unit, double times) {
    private static final String DESCRIBED = "× described";
    private static final Map<String, Terms> ALL = new LinkedHashMap<>();

    static {
        add(
                "heatReleaseFactor",
                "Heat released",
                "the heat released",
                "of what jet and pressure should give",
                DESCRIBED);
        add("mixture", "Mixture", "the mixture", "air to fuel: below 1 rich, above 1 lean", "λ");
        add(
                "liningConductivityScale",
                "Lining conductivity",
                "the lining’s conductivity",
                "how readily heat passes through",
                DESCRIBED);
        add(
                "liningCapacityScale",
                "Lining heat capacity",
                "the lining’s heat capacity",
                "heat it takes to warm through",
                DESCRIBED);
        ALL.put(
                "effectiveOpeningArea",
                new Terms("Opening area", "the area of the openings", "as large as they radiate", "cm²", 1e4));
        add("sensorLag", "Probe lag", "the probe’s lag", "how far the thermocouple runs behind", "s");
        add(
                "flameConvection",
                "Flame on the wall",
                "how the flame plays on the wall",
                "how hard it blows heat into the lining",
                DESCRIBED);
        add("flameEmissivity", "Glow of the flame", "the glow of the flame", "how much heat it radiates", DESCRIBED);
        add("draught", "Draught", "the draught", "air through the openings, against a room on fire", "");
        add(
                "probeConvection",
                "Flame on the probe",
                "how the flame plays on the probe",
                "how far it heats the thermocouple above the wall",
                DESCRIBED);
    }

    private static void add(String key, String name, String inSentence, String meaning, String unit) {
        ALL.put(key, new Terms(name, inSentence, meaning, unit, 1));
    }

    /** Of a parameter by its name in the fit; an unknown one is spelt out. */
    static Terms of(String parameter, String unit) {
        Terms known = ALL.get(parameter);
        if (known != null) {
            return known;
        }
        String spelt = parameter.replaceAll("([A-Z])", " $1").toLowerCase(Locale.ROOT);
        return new Terms(spelt, spelt, "", unit.equals("1") ? "" : unit, 1);
    }

    /** A sentence of the fit with the trade's words for the names of parameters. */
    static String in(String sentence) {
        String told = sentence;
        for (Map.Entry<String, Terms> each : ALL.entrySet()) {
            String key = each.getKey();
            boolean alsoAWord = key.equals(key.toLowerCase(Locale.ROOT));
            // A name that is a word of the language is a parameter only where something is put down to it.
            told = alsoAWord
                    ? told.replaceAll(
                            "\\bby " + key + "\\b", "by " + each.getValue().inSentence())
                    : told.replace(key, each.getValue().inSentence());
        }
        return told;
    }
}
