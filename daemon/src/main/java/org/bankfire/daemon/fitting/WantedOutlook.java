package org.bankfire.daemon.fitting;

import java.util.Optional;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What the user of a forge wants of its outlook: target and price as configured, limits of stable burning as marked. */
public final class WantedOutlook {
    private static final Logger log = LoggerFactory.getLogger(WantedOutlook.class);

    /** Lowest pressure at which the burner burns stably, as the user has seen it. */
    public static final String LOWEST_STABLE = Setting.PREFIX + "lowest-stable";
    /** Highest one. */
    public static final String HIGHEST_STABLE = Setting.PREFIX + "highest-stable";

    private final ReadingStore store;

    public WantedOutlook(ReadingStore store) {
        this.store = store;
    }

    /** For a forge as it is now. */
    public OutlookSettings of(ForgeConfig forge) {
        OutlookSettings wanted = OutlookSettings.of(forge.description())
                .withPrice(forge.monitor().gasPricePerKg());
        double lowestPa = markedPa(forge.id(), LOWEST_STABLE);
        double highestPa = markedPa(forge.id(), HIGHEST_STABLE);
        if (lowestPa >= highestPa) {
            log.warn(
                    "{}: the lowest stable pressure is marked at {} Pa, above the highest, {} Pa: neither is heeded",
                    forge.id(),
                    lowestPa,
                    highestPa);
            return wanted;
        }
        return wanted.withLimits(lowestPa, highestPa);
    }

    private double markedPa(String forge, String name) {
        try {
            Optional<Setting> marked = store.latestSetting(forge, name);
            return marked.map(WantedOutlook::pressurePa).orElse(Double.NaN);
        } catch (StoreException failure) {
            log.warn("{} of {} cannot be read: {}", name, forge, failure.getMessage());
            return Double.NaN;
        }
    }

    /** NaN for what is no pressure of a burner. */
    private static double pressurePa(Setting marked) {
        try {
            Unit unit = Unit.ofSymbol(marked.unit());
            double gaugePa = unit.toSi(Double.parseDouble(marked.value()));
            return unit.quantity() == Unit.Quantity.PRESSURE && GasProgramme.GAUGE_PA.contains(gaugePa)
                    ? gaugePa
                    : Double.NaN;
        } catch (NumberFormatException noNumber) {
            return Double.NaN;
        }
    }
}
