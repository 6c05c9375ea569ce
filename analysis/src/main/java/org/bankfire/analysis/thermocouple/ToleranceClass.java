package org.bankfire.analysis.thermocouple;

/** Tolerance classes of new type K wire: the greater of an absolute and a proportional part. */
public enum ToleranceClass {
    IEC_1,
    IEC_2,
    IEC_3,
    ASTM_SPECIAL,
    ASTM_STANDARD
}
