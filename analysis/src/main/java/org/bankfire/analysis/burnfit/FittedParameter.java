package org.bankfire.analysis.burnfit;

/**
 * What a burn tells of one parameter.
 *
 * @param name as in results: {@code heatReleaseFactor}, {@code mixture} …
 * @param unit 1 for a pure number
 * @param value most probable
 * @param standardError of it, with what was known beforehand
 * @param low95 lower end of the 95 % interval
 * @param high95 upper end
 * @param status whether the burn told it
 * @param expected what was expected beforehand
 * @param narrowedTo its uncertainty over that before the burn: 1 when the burn told nothing
 * @param advice what would tell more; empty when the burn told it
 */
public record FittedParameter(
        String name,
        String unit,
        double value,
        double standardError,
        double low95,
        double high95,
        Status status,
        double expected,
        double narrowedTo,
        String advice) {
    /** Where the knowledge of a parameter comes from. */
    public enum Status {
        /** From the burn. */
        IDENTIFIED("identified"),
        /** From what was known beforehand; the burn hardly told more. */
        PRIOR("prior"),
        /** From nowhere: any value near this one would do. */
        NOT_IDENTIFIABLE("not-identifiable");

        private final String code;

        Status(String code) {
            this.code = code;
        }

        /** As scripts know it. */
        public String code() {
            return code;
        }
    }
}
