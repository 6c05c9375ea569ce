package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.fitting.BurnIntake;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.daemon.fitting.RecordedBurns;
import org.bankfire.daemon.report.burn.BurnFile.Weighed;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.SeriesArchive;
import org.bankfire.dashboard.source.SeriesArchive.SeriesPoint;
import org.jspecify.annotations.Nullable;

/**
 * Gathers what a report needs from the store: series from their roll-ups, and the fit that was made already. Its memory does
 * not grow with the readings of a burn.
 */
public final class BurnFiler {
    private static final ObjectMapper JSON = new ObjectMapper();
    /** A cylinder is weighed shortly before the gas is opened, s. Common practice, no source. */
    private static final double WEIGHED_BEFORE_S = 3_600;
    /** Burns that are looked through for the next one; more than a year of them. */
    private static final int MOST_BURNS = 1_000;

    private final ReadingStore store;
    private final SeriesArchive series;
    private final Collection<ForgeFace> forges;
    private final Fits fits;

    /** Where fits come from. */
    @FunctionalInterface
    public interface Fits {
        /** The latest fit of a burn as JSON; empty when there is none. */
        Optional<String> fitOf(String burnId) throws StoreException;
    }

    /**
     * A filer.
     *
     * @param forges those whose burns may be asked for
     */
    public BurnFiler(ReadingStore store, SeriesArchive series, Collection<ForgeFace> forges, Fits fits) {
        this.store = store;
        this.series = series;
        this.forges = forges;
        this.fits = fits;
    }

    /**
     * A burn.
     *
     * @param now the time of day
     * @return empty when the store has no such burn of a forge that is known
     */
    public Optional<BurnReport> report(String burnId, WallTime now) throws StoreException {
        Optional<Burn> burn = store.burn(burnId);
        return burn.isPresent() ? report(burn.get(), now) : Optional.empty();
    }

    /** A burn that the store may not know as one. */
    public Optional<BurnReport> report(Burn burn, WallTime now) throws StoreException {
        for (ForgeFace face : forges) {
            if (face.description().id().equals(burn.forge())) {
                return Optional.of(new BurnReport(file(burn, face, now)));
            }
        }
        return Optional.empty();
    }

    private BurnFile file(Burn burn, ForgeFace face, WallTime now) throws StoreException {
        Optional<String> json = fits.fitOf(burn.id());
        JsonNode fit = json.isPresent() ? parsed(burn, json.get()) : null;
        WallTime until = until(burn, fit, now);
        TimeRange range = new TimeRange(burn.start(), until);
        List<AlarmTransition> alarms = store.alarmTransitions(burn.forge(), range);
        StoredLog log = new StoredLog(store, burn.forge());
        ResolvedLog hands = log.in(range);
        int shown = Math.min(alarms.size(), BurnFile.MOST_ALARMS);
        return new BurnFile(
                burn,
                face,
                until,
                fit,
                fit == null ? noFit(burn) : "",
                points(burn, ChannelNames.CHAMBER, until),
                points(burn, ChannelNames.GAS, until),
                points(burn, ChannelNames.SHELL, until),
                log.settingsTo(burn.start()).inForce(burn.start()).values().stream()
                        .filter(setting -> setting.time().isBefore(burn.start()))
                        .sorted(Comparator.comparing(Setting::name))
                        .toList(),
                hands.settings().stream()
                        .filter(setting -> range.contains(setting.time()))
                        .toList(),
                hands.notes().stream()
                        .filter(note -> range.contains(note.time()))
                        .toList(),
                List.copyOf(alarms.subList(0, shown)),
                alarms.size() - shown,
                weighed(burn, face, log, until));
    }

    private static JsonNode parsed(Burn burn, String json) throws StoreException {
        try {
            return JSON.readTree(json);
        } catch (JsonProcessingException bad) {
            throw new StoreException(
                    "the fit of burn " + burn.id() + " cannot be read: " + bad.getOriginalMessage(), bad);
        }
    }

    private static String noFit(Burn burn) {
        return burn.end() == null
                ? "Not fitted yet, because it still burns and has not burnt for long enough: it is fitted every minute or so"
                        + " while it burns, and again when it has cooled down."
                : "Not fitted, because no fit of it has been made or its readings could not be fitted. A burn is fitted by"
                        + " itself when it has ended; “fit --burn " + burn.id()
                        + "” does it now and says what stands in"
                        + " the way.";
    }

    private WallTime until(Burn burn, @Nullable JsonNode fit, WallTime now) throws StoreException {
        WallTime least = burn.start().plusSeconds(1);
        WallTime end = burn.end();
        if (end == null) {
            WallTime latest = burn.start().plusSeconds(RecordedBurns.LONGEST_S);
            WallTime reached = now.isBefore(latest) ? now : latest;
            return reached.isBefore(least) ? least : reached;
        }
        if (fit != null) {
            WallTime fitted = WallTime.of(Instant.parse(fit.path("end").asText()));
            return fitted.isAfter(end) ? fitted : end.isBefore(least) ? least : end;
        }
        WallTime cooled = end.plusSeconds(RecordedBurns.COOL_DOWN_S);
        for (Burn other : store.burns(burn.forge(), MOST_BURNS)) {
            if (!other.start().isBefore(end) && other.start().isBefore(cooled)) {
                cooled = other.start();
            }
        }
        return cooled.isAfter(now) && now.isAfter(end) ? now : cooled;
    }

    private List<SeriesPoint> points(Burn burn, String channel, WallTime until) {
        return series.series(new Channel(burn.forge(), channel), burn.start(), until, BurnFile.POINTS);
    }

    /** As the fit reckons it, which also knows of a cylinder that was changed. */
    private Weighed weighed(Burn burn, ForgeFace face, StoredLog log, WallTime until) throws StoreException {
        BurnIntake intake = new BurnIntake(burn.start());
        TimeRange range = new TimeRange(burn.start().plusSeconds(-WEIGHED_BEFORE_S), until);
        store.readings(new Channel(burn.forge(), ChannelNames.CYLINDER), range, intake::take);
        log.corrections().forEach(intake::take);
        BurnRecord record = intake.gathered(face.description(), burn.id(), Stage.COOLED, Double.POSITIVE_INFINITY)
                .record();
        return new Weighed(record.weighedGasKg(), record.weighedUncertaintyKg());
    }
}
