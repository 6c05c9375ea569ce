package org.bankfire.analysis.monitor;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.jspecify.annotations.Nullable;

/**
 * What comes in with the gas and is radiated out of the openings, with the jet and the plug that are in force and the
 * temperatures that were measured last; those of the description stand in for what is not measured.
 */
final class HeatAccount {
    /** Name of the setting that tells the jet's bore, mm. */
    static final String JET_SETTING = Setting.PREFIX + "jet";

    private static final double CELSIUS_ZERO_K = 273.15;

    private final double heatingValueJPerKg;
    private final GasState gas;
    private final OpeningLoss openings;
    private double ambientK;

    HeatAccount(ForgeDescription description, double gasOnPa) {
        this.heatingValueJPerKg = description.burner().fuel().lowerHeatingValueJPerKg();
        this.gas = new GasState(
                description.burner(), gasOnPa, Atmosphere.pressurePa(description.altitudeM()), description.ambientK());
        this.openings = new OpeningLoss(description);
        this.ambientK = description.ambientK();
    }

    GasState gas() {
        return gas;
    }

    /** Takes the jet, in mm unless it says otherwise, and the plug; other settings do not concern it. */
    void accept(Setting setting) {
        if (setting.name().equals(JET_SETTING)) {
            Unit unit = setting.unit().isEmpty() ? Unit.MILLIMETRE : Unit.ofSymbol(setting.unit());
            if (unit.quantity() == Unit.Quantity.LENGTH) {
                gas.jet(unit.toSi(Numbers.of(setting.value())));
            }
        } else if (setting.name().equals(Setting.PLUG)) {
            if (setting.value().equals("in")) {
                openings.plug(true);
            } else if (setting.value().equals("out")) {
                openings.plug(false);
            }
        }
    }

    /** A good temperature of the surroundings. */
    void ambient(double celsius) {
        ambientK = celsius + CELSIUS_ZERO_K;
    }

    /** A good temperature of the gas before the jet. */
    void gasTemperature(double celsius) {
        gas.gasTemperature(celsius + CELSIUS_ZERO_K);
    }

    /** Heat released by that flow, W; none while the flame is out, since unburnt gas brings no heat. */
    double inputW(double flowKgPerS, FlameState flame) {
        return flame == FlameState.OUT ? 0 : flowKgPerS * heatingValueJPerKg;
    }

    /** Heat radiated out at that chamber temperature, W; NaN when it is not known. */
    double openingsW(@Nullable Reading chamber) {
        return chamber != null && ChannelTrack.isTemperature(chamber)
                ? openings.watts(ChannelTrack.celsius(chamber) + CELSIUS_ZERO_K, ambientK)
                : Double.NaN;
    }
}
