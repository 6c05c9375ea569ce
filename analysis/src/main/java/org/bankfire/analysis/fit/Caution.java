package org.bankfire.analysis.fit;

/** What an empirical fit cannot tell, in words for the reader. */
public enum Caution {
    /** Always with a heat-up. */
    HEAT_UP_GIVES_NO_LOSS(
            "A heat-up alone does not separate heat lost from heat stored: it gives no loss coefficient in W/K. "
                    + "Record a cool-down, and know the gas flow by weighing the cylinder."),
    /** Always with a cool-down. */
    COOL_DOWN_GIVES_A_RATIO(
            "A cool-down gives the ratio of heat stored to loss, which is its time constant, not the loss itself: "
                    + "W/K needs a known gas flow besides."),
    /** The record is shorter than its slowest time constant, or the interval is as wide as half of the change. */
    FINAL_TEMPERATURE_NOT_IDENTIFIED(
            "The final temperature is not identified: the record is too short beside the slowest time "
                    + "constant. Record for longer, at least until the curve has clearly bent."),
    /** The half-space curve describes it best. */
    WALL_STILL_SOAKING(
            "The lining takes heat as the square root of time: it is far from soaked, and a loss read from this record "
                    + "would be several times too large."),
    /** The runs test stands more than three standard deviations low. */
    CURVE_MISSES_A_TREND(
            "The temperatures keep to one side of the curve for long stretches: it misses a trend, and the intervals "
                    + "are only rough."),
    /** No curve reached a minimum with its parameters told apart. */
    PARAMETERS_NOT_TOLD_APART(
            "The record does not tell the curve's parameters apart: the curve may fit, its numbers mean nothing.");

    private final String text;

    Caution(String text) {
        this.text = text;
    }

    /** In words. */
    public String text() {
        return text;
    }
}
