package org.bankfire.daemon.fitting;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import java.util.function.Supplier;
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
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Makes fits and keeps them: the latest of each forge at hand, those of burns that have ended in the store. With each burn
 * that has cooled it looks at the lining's trend.
 */
public final class FitKeeper implements BurnWorker.Work {
    private static final Logger log = LoggerFactory.getLogger(FitKeeper.class);

    private final Fitter fitter;
    private final ReadingStore store;
    private final Consumer<StoredFit> writer;
    private final Supplier<WallTime> clock;
    private final List<String> forges;
    private volatile LiningListener lining = (forge, trend, latestWPerK) -> {};

    // As many entries as forges.
    private final Map<String, String> goingOn = new ConcurrentHashMap<>();
    private final Map<String, Fitted> latest = new ConcurrentHashMap<>();

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
     * @param forges ids of those whose linings are looked at
     */
    public FitKeeper(
            Fitter fitter,
            ReadingStore store,
            Consumer<StoredFit> writer,
            Supplier<WallTime> clock,
            List<String> forges) {
        this.fitter = fitter;
        this.store = store;
        this.writer = writer;
        this.clock = clock;
        this.forges = List.copyOf(forges);
    }

    /** Tells {@code listener} of the linings' trends from now on. */
    public void tell(LiningListener listener) {
        lining = listener;
    }

    @Override
    public void first() {
        forges.forEach(forge -> look(forge, losses(forge)));
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
        BurnLoss loss = null;
        Band wattsPerK = result.loss().wattsPerK();
        // A figure that is the description's would hide what the lining does.
        if (result.loss().isTold() && BurnLoss.isKnown(wattsPerK)) {
            // Losses are compared when they are stated at the same temperature, which rounding must not tell apart.
            double atC = Math.rint(10 * (result.loss().atK() - Constants.ZERO_CELSIUS_K)) / 10;
            loss = new BurnLoss(burn.burnId(), burn.start(), atC, wattsPerK);
        }
        writer.accept(new StoredFit(burn.burnId(), forge, burn.start(), clock.get(), loss, json));
        log.info(
                "burn {} fitted: {}",
                burn.burnId(),
                loss == null ? result.loss().advice() : loss.wattsPerK().value() + " W/K");
        if (burn.stage() == Stage.COOLED) {
            goingOn.remove(forge, burn.burnId());
            if (loss != null) {
                look(forge, loss);
            }
        }
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

    /** Looks at the trend with a loss that the store may not have yet. */
    private void look(String forge, BurnLoss added) {
        List<BurnLoss> losses = new ArrayList<>(losses(forge));
        losses.removeIf(loss -> loss.burnId().equals(added.burnId()));
        losses.add(added);
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
