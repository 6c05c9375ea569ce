package org.bankfire.analysis.alarm;

/**
 * How long a condition must hold before its alarm follows.
 *
 * @param onS from the condition's beginning to the raised alarm, s, 0 or more
 * @param offS from the condition's end to the cleared alarm, s, 0 or more
 */
public record AlarmDelays(double onS, double offS) {
    /** The alarm follows its condition at once. */
    public static final AlarmDelays NONE = new AlarmDelays(0, 0);

    public AlarmDelays {
        if (!(onS >= 0 && offS >= 0 && onS < 1e6 && offS < 1e6)) {
            throw new IllegalArgumentException(
                    "alarm delays " + onS + " s and " + offS + " s; allowed is 0 to 1,000,000 s");
        }
    }
}
