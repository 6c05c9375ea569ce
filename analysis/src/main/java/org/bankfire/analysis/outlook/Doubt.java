package org.bankfire.analysis.outlook;

/** What an outlook cannot know, or had to guess. */
public enum Doubt {
    /** No good chamber reading in the last minutes. */
    NO_CHAMBER("no-chamber", "There is no chamber reading of the last minutes to begin from.", true),
    /** Gas pressure unknown. */
    NO_PRESSURE("no-pressure", "The gas pressure is not measured, so nothing can be said of what it will do.", true),
    /** Nothing burns. */
    NOT_LIT("not-lit", "Nothing burns: a forecast begins with the flame.", true),
    /** Too little was recorded to tell how the forge does today. */
    SHORT("short", "The burn is too young: a forecast needs its first minute.", true),
    /** No forge that is known of behaves as this burn does. */
    MISFIT(
            "misfit",
            "The forge does not behave as it is known to: look whether jet, choke, plug and probe are as noted.",
            true),
    /** No burn of this forge was fitted yet. */
    NO_FIT(
            "no-fit",
            "No burn of this forge has been fitted yet: this is from its description, and the bands are wide.",
            false),
    /** Stock is in the chamber. */
    STOCK_IN("stock-in", "Stock is in, and nobody noted how large: the chamber settles once it is hot or out.", false),
    /** Stock was taken out a short while ago. */
    STOCK_OUT("stock-out", "Stock was in until a short while ago: the lining still recovers.", false),
    /** The plug is out. */
    PLUG_OUT("plug-out", "The plug is out, and the forecast takes it to stay out.", false),
    /** The plug was moved a short while ago. */
    PLUG_MOVED("plug-moved", "The plug was moved a short while ago: the forecast still learns from it.", false),
    /** The burn began with a warm forge. */
    WARM_START("warm-start", "The forge was still warm at the start, and how deep is not known.", false);

    private final String code;
    private final String words;
    private final boolean silencing;

    Doubt(String code, String words, boolean silencing) {
        this.code = code;
        this.words = words;
        this.silencing = silencing;
    }

    /** As scripts know it. */
    public String code() {
        return code;
    }

    /** In a sentence. */
    public String words() {
        return words;
    }

    /** Whether with it nothing at all can be said. */
    public boolean isSilencing() {
        return silencing;
    }
}
