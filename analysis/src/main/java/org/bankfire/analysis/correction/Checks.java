package org.bankfire.analysis.correction;

/** Refuses values of a calibration, naming channel, field, value and what is allowed. */
record Checks(String channel) {
    void within(String field, double value, double min, double max, String unit) {
        if (!(value >= min && value <= max)) {
            throw refused(field, value, "allowed are " + min + " to " + max + " " + unit);
        }
    }

    void withinOrUnknown(String field, double value, double min, double max, String unit) {
        if (!Double.isNaN(value)) {
            within(field, value, min, max, unit);
        }
    }

    void differ(String field, double value, String otherField, double other) {
        if (value == other) {
            throw refused(field, value, "it must differ from " + otherField);
        }
    }

    private IllegalArgumentException refused(String field, double value, String allowed) {
        return new IllegalArgumentException(
                "calibration of " + channel + ": " + field + " is " + value + "; " + allowed);
    }
}
