package org.bankfire.daemon.acquire.virtual;

/**
 * Cylinder, regulator, valve and jet of the virtual forge. The jet is a metering orifice whose flow follows from density,
 * pressure drop and an expansion factor, as control valves are sized (the form of IEC 60534-2-1), with its choking point
 * set for propane.
 */
final class GasSupply {
    /** Of propane, J/(kg K). */
    private static final double GAS_CONSTANT = 188.5;

    /** Pressure drop over inlet pressure at which the orifice chokes. */
    private static final double CHOKING_DROP = 0.45;

    /** Loss of set pressure per kelvin that the cylinder is colder than the room. Common practice, no source. */
    private static final double SAG_PER_K = 0.0012;

    private static final double VALVE_S = 0.3;
    private static final double REGULATOR_S = 0.8;

    private static final double LATENT_HEAT_J_KG = 350e3;
    private static final double CYLINDER_W_PER_K = 4.5;
    private static final double STEEL_J_PER_K = 9 * 480;
    private static final double LIQUID_J_PER_KG_K = 2_500;
    private static final double TARE_KG = 9.2;
    static final double FULL_KG = 11;
    /** Below this the last vapour is drawn and the pressure dies away. */
    private static final double LAST_VAPOUR_KG = 0.25;

    private final double atmospherePa;
    /** Propane as an ideal gas at room temperature, Pa m³/kg. */
    private final double paPerDensity;

    private final double dischargeM2;
    private final double droopPaPerKgS;
    private boolean open;
    private double setPa;
    private double regulatorPa;
    private double pressurePa;
    private double flowKgS;
    private double contentsKg = FULL_KG;
    private double chillK;
    private double usedKg;

    GasSupply(ForgeTraits traits) {
        double jetM = traits.burner().jetM();
        atmospherePa = traits.airPressurePa();
        paPerDensity = GAS_CONSTANT * (traits.ambientC() + 273.15);
        dischargeM2 = traits.burner().discharge() * Math.PI / 4 * jetM * jetM;
        droopPaPerKgS = traits.droopPaPerKgS();
    }

    void openValve() {
        open = true;
    }

    void closeValve() {
        open = false;
    }

    boolean isOpen() {
        return open;
    }

    void setPressure(double gaugePa) {
        setPa = gaugePa;
    }

    void changeCylinder(double withKg) {
        contentsKg = withKg;
        chillK = 0;
    }

    /** Comes to stand as another of the same traits. */
    void become(GasSupply other) {
        open = other.open;
        setPa = other.setPa;
        regulatorPa = other.regulatorPa;
        pressurePa = other.pressurePa;
        flowKgS = other.flowKgS;
        contentsKg = other.contentsKg;
        chillK = other.chillK;
        usedKg = other.usedKg;
    }

    void advance(double stepS) {
        double wanted = Math.max(0, setPa * (1 - SAG_PER_K * chillK) - droopPaPerKgS * flowKgS);
        wanted *= Math.min(1, contentsKg / LAST_VAPOUR_KG);
        regulatorPa += (wanted - regulatorPa) * (1 - Math.exp(-stepS / REGULATOR_S));
        pressurePa += ((open ? regulatorPa : 0) - pressurePa) * (1 - Math.exp(-stepS / VALVE_S));
        flowKgS = flow(pressurePa);
        contentsKg = Math.max(0, contentsKg - flowKgS * stepS);
        usedKg += flowKgS * stepS;
        double heldJPerK = STEEL_J_PER_K + LIQUID_J_PER_KG_K * contentsKg;
        chillK += (flowKgS * LATENT_HEAT_J_KG - CYLINDER_W_PER_K * chillK) * stepS / heldJPerK;
    }

    /** Propane through the jet, kg/s. */
    double flow(double gaugePa) {
        double inletPa = gaugePa + atmospherePa;
        double drop = Math.min(Math.max(0, gaugePa / inletPa), CHOKING_DROP);
        double expansion = 1 - drop / (3 * CHOKING_DROP);
        double density = inletPa / paPerDensity;
        return dischargeM2 * expansion * Math.sqrt(2 * density * inletPa * drop);
    }

    double pressurePa() {
        return pressurePa;
    }

    double flowKgS() {
        return flowKgS;
    }

    /** Propane that went through the jet since the beginning, kg. */
    double usedKg() {
        return usedKg;
    }

    double grossKg() {
        return TARE_KG + contentsKg;
    }

    double contentsKg() {
        return contentsKg;
    }
}
