package org.bankfire.daemon.fitting;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What the user of a forge wants of its outlook: target and price as configured, limits of stable burning as marked. */
public final class WantedOutlook {
    private static final Logger log = LoggerFactory.getLogger(WantedOutlook.class);

    private static final double S_PER_MIN = 60;

    /** The log grows over years and is not read at every outlook; a mark counts soon enough, s. */
    private static final double KNOWN_FOR_S = 15;

    private final ReadingStore store;
    // As many entries as forges.
    private final Map<String, Known> latest = new ConcurrentHashMap<>();
    private final Supplier<WallTime> clock;

    private record Known(WallTime at, Map<String, Setting> inForce) {}

    public WantedOutlook(ReadingStore store, Supplier<WallTime> clock) {
        this.store = store;
        this.clock = clock;
    }

    /** For a forge as it is now. */
    public OutlookSettings of(ForgeConfig forge) {
        OutlookSettings wanted = OutlookSettings.of(forge.description())
                .withSteadyBand(S_PER_MIN * forge.monitor().steadyBandKPerS())
                .withPrice(forge.monitor().gasPricePerKg());
        Map<String, Setting> inForce = inForce(forge.id());
        double markedPa = markedPa(inForce.get(EntryRules.LOWEST_STABLE));
        double lowestPa = Double.isNaN(markedPa) ? forge.monitor().conditions().lowestStablePa() : markedPa;
        double highestPa = markedPa(inForce.get(EntryRules.HIGHEST_STABLE));
        // Of two marks that contradict each other the lowest counts: a flame that goes out is worse than one that
        // lifts.
        return wanted.withLimits(lowestPa, lowestPa >= highestPa ? Double.NaN : highestPa);
    }

    private Map<String, Setting> inForce(String forge) {
        WallTime now = clock.get();
        Known known = latest.get(forge);
        if (known != null && Math.abs(now.secondsSince(known.at())) < KNOWN_FOR_S) {
            return known.inForce();
        }
        Map<String, Setting> inForce;
        try {
            inForce = new StoredLog(store, forge).settingsTo(now.plusMicros(1)).inForce(now);
        } catch (StoreException failure) {
            log.warn("the settings of {} cannot be read: {}", forge, failure.getMessage());
            // What was marked before still holds.
            inForce = known == null ? Map.of() : known.inForce();
        }
        latest.put(forge, new Known(now, inForce));
        return inForce;
    }

    /** NaN for what is no pressure of a burner. */
    private static double markedPa(@Nullable Setting marked) {
        if (marked == null) {
            return Double.NaN;
        }
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
