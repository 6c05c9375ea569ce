package org.bankfire.daemon.fitting;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.daemon.report.FitJson;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Makes fits and keeps them: the latest of each forge at hand, those of burns that have ended in the store. With each burn
 * that has cooled it looks at the lining's trend. When the log comes to tell otherwise what hands did during a burn of the
 * past, that burn is fitted anew.
 */
public final class FitKeeper implements BurnWorker.Work {
    private static final Logger log = LoggerFactory.getLogger(FitKeeper.class);

    /** More than anybody corrects within seconds or of the latest burns; the oldest go. */
    private static final int MOST_RETOLD = 256;

    private final Fitter fitter;
    private final ReadingStore store;
    private final Consumer<StoredFit> writer;
    private final Supplier<WallTime> clock;
    private final Set<String> forges;
    private final StaleFits staleFits;
    private volatile LiningListener lining = (forge, trend, latestWPerK) -> {};

    // As many entries as forges.
    private final Map<String, String> goingOn = new ConcurrentHashMap<>();
    private final Map<String, Fitted> latest = new ConcurrentHashMap<>();

    /** Guarded by itself; as many entries as forges, each bounded. */
    private final Map<String, List<Retold>> retold = new HashMap<>();
    /** Used by the worker's thread alone; some burns a forge at most. */
    private final Deque<Burn> stale = new ArrayDeque<>();

    /** What makes a fit of a record. */
    public interface Fitter {
        /** {@link BurnFit#fit} at the usual temperature of a loss coefficient. */
        Fitter STANDARD = (forge, record) -> BurnFit.fit(forge, record, BurnFit.USUAL_LOSS_AT_K);

        BurnFitResult fit(ForgeDescription forge, BurnRecord record);
    }

    /** Told how the lining does. */
    public interface LiningListener {
        /**
         * A burn has been added to the trend, or the trend was looked at anew.
         *
         * @param latestWPerK the latest burn's loss coefficient, W/K; NaN when none told one
         */
        void onTrend(String forge, LiningTrend trend, double latestWPerK);
    }

    private record Fitted(String burnId, String json, KnownForge known) {}

    /**
     * A keeper.
     *
     * @param store to read earlier losses from
     * @param writer takes fits to be stored
     * @param clock the time of day
     * @param forges those whose linings are looked at
     */
    public FitKeeper(
            Fitter fitter,
            ReadingStore store,
            Consumer<StoredFit> writer,
            Supplier<WallTime> clock,
            List<ForgeDescription> forges) {
        this.fitter = fitter;
        this.store = store;
        this.writer = writer;
        this.clock = clock;
        Map<String, ForgeDescription> byId =
                forges.stream().collect(Collectors.toMap(ForgeDescription::id, forge -> forge));
        this.forges = Set.copyOf(byId.keySet());
        staleFits = new StaleFits(store, byId);
    }

    /** Tells {@code listener} of the linings' trends from now on. */
    public void tell(LiningListener listener) {
        lining = listener;
    }

    @Override
    public void first() {
        for (String forge : forges) {
            look(forge, losses(forge));
            try {
                staleFits.corrections(forge, clock.get()).forEach(correction -> retold(forge, correction));
            } catch (StoreException failure) {
                log.warn("corrections of {} cannot be read: {}", forge, failure.getMessage());
            }
        }
    }

    @Override
    public void retold(String forge, Retold what) {
        synchronized (retold) {
            List<Retold> ofForge = retold.computeIfAbsent(forge, any -> new ArrayList<>());
            if (ofForge.size() == MOST_RETOLD) {
                ofForge.remove(0);
            }
            ofForge.add(what);
        }
    }

    @Override
    public boolean catchUp() {
        Map<String, List<Retold>> news;
        synchronized (retold) {
            news = Map.copyOf(retold);
            retold.clear();
        }
        news.forEach(this::findStale);
        Burn burn = stale.poll();
        if (burn != null) {
            fitAnew(burn);
        }
        return !stale.isEmpty();
    }

    private void findStale(String forge, List<Retold> news) {
        try {
            for (Burn burn : staleFits.of(forge, news)) {
                stale.removeIf(other -> other.id().equals(burn.id()));
                stale.add(burn);
            }
        } catch (StoreException failure) {
            log.warn("burns of {} that were corrected cannot be read: {}", forge, failure.getMessage());
        }
    }

    private void fitAnew(Burn burn) {
        if (burn.id().equals(goingOn.get(burn.forge()))) {
            // It cools down, and is fitted with all that is told when it has.
            return;
        }
        try {
            staleFits.gather(burn).ifPresent(gathered -> {
                BurnFitResult result = fitter.fit(gathered.forge(), gathered.record());
                String json = json(gathered, result);
                Fitted fitted = new Fitted(burn.id(), json, result.known());
                latest.computeIfPresent(
                        burn.forge(), (forge, now) -> now.burnId().equals(burn.id()) ? fitted : now);
                look(burn.forge(), keep(gathered, result, json), burn.id());
            });
        } catch (StoreException failure) {
            log.warn("burn {} was corrected and cannot be read: {}", burn.id(), failure.getMessage());
        }
    }

    @Override
    public void begun(String forge, String burnId) {
        goingOn.put(forge, burnId);
    }

    @Override
    public void work(GatheredBurn burn) {
        String forge = burn.forge().id();
        BurnFitResult result = fitter.fit(burn.forge(), burn.record());
        String json = json(burn, result);
        latest.put(forge, new Fitted(burn.burnId(), json, result.known()));
        if (burn.stage() == Stage.BURNING) {
            return;
        }
        BurnLoss loss = keep(burn, result, json);
        if (burn.stage() == Stage.COOLED) {
            goingOn.remove(forge, burn.burnId());
            if (loss != null) {
                look(forge, loss, burn.burnId());
            }
        }
    }

    /** Has a fit stored; returns the loss coefficient that it tells, null when none. */
    private @Nullable BurnLoss keep(GatheredBurn burn, BurnFitResult result, String json) {
        BurnLoss loss = null;
        Band wattsPerK = result.loss().wattsPerK();
        // A figure that is the description's would hide what the lining does.
        if (result.loss().isTold() && BurnLoss.isKnown(wattsPerK)) {
            // Losses are compared when they are stated at the same temperature, which rounding must not tell apart.
            double atC = Math.rint(10 * (result.loss().atK() - Constants.ZERO_CELSIUS_K)) / 10;
            loss = new BurnLoss(burn.burnId(), burn.start(), atC, wattsPerK);
        }
        writer.accept(new StoredFit(burn.burnId(), burn.forge().id(), burn.start(), clock.get(), loss, json));
        log.info(
                "burn {} fitted: {}",
                burn.burnId(),
                loss == null ? result.loss().advice() : loss.wattsPerK().value() + " W/K");
        return loss;
    }

    private static String json(GatheredBurn burn, BurnFitResult result) {
        StringWriter text = new StringWriter();
        try {
            FitJson.write(
                    burn.forge().id(), burn.start().toInstant(), burn.end().toInstant(), result, text);
        } catch (IOException failure) {
            throw new UncheckedIOException("writing a fit to memory", failure);
        }
        return text.toString();
    }

    /** Looks at the trend with what a burn told, which the store may not have yet. */
    private void look(String forge, @Nullable BurnLoss told, String burnId) {
        List<BurnLoss> losses = new ArrayList<>(losses(forge));
        losses.removeIf(loss -> loss.burnId().equals(burnId));
        if (told != null) {
            losses.add(told);
            losses.sort(Comparator.comparing(BurnLoss::start));
        }
        look(forge, losses);
    }

    private void look(String forge, List<BurnLoss> losses) {
        double latestWPerK = losses.isEmpty()
                ? Double.NaN
                : losses.get(losses.size() - 1).wattsPerK().value();
        lining.onTrend(forge, LiningTrend.of(losses), latestWPerK);
    }

    private List<BurnLoss> losses(String forge) {
        try {
            return store.losses(forge, LiningTrend.MOST_BURNS);
        } catch (StoreException failure) {
            log.warn("earlier losses of {} cannot be read: {}", forge, failure.getMessage());
            return List.of();
        }
    }

    /** The latest fit of a burn, when it is at hand. */
    public Optional<String> fitOf(String burnId) {
        return latest.values().stream()
                .filter(fitted -> fitted.burnId().equals(burnId))
                .map(Fitted::json)
                .findFirst();
    }

    /** What the latest fit at hand tells of a forge, of a burn that goes on or has ended. */
    public Optional<KnownForge> known(String forge) {
        return Optional.ofNullable(latest.get(forge))
                .map(Fitted::known)
                .filter(known -> known.basis() == KnownForge.Basis.FITTED);
    }

    /** Whether a fit at hand is of a burn that goes on or cools down. */
    boolean goesOn(String forge) {
        return fitNow(forge).isPresent();
    }

    /** The latest fit of the burn that goes on or cools down. */
    public Optional<String> fitNow(String forge) {
        Fitted fitted = latest.get(forge);
        return fitted != null && fitted.burnId().equals(goingOn.get(forge))
                ? Optional.of(fitted.json())
                : Optional.empty();
    }
}
