package org.bankfire.daemon.fitting;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Semaphore;
import java.util.function.Function;
import java.util.function.LongSupplier;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.outlook.ForecastScore;
import org.bankfire.analysis.outlook.Outlook;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.outlook.Outlooks;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.dashboard.source.OutlookBook;
import org.bankfire.dashboard.source.SourceException;
import org.jspecify.annotations.Nullable;

/**
 * Looks ahead of each burn that goes on, again and again as it comes in, and scores what it saw. An outlook for another
 * pause than the usual is made when it is asked for.
 */
public final class OutlookKeeper implements BurnWorker.Work, OutlookBook {
    /** What is known of a forge changes with a fit, at most once a minute, s of the burn. */
    private static final double KNOWN_FOR_S = 60;

    /** Some turns of the worker, also on a slow board with many forges. */
    private static final long STALE_NANOS = 120_000_000_000L;

    private final Semaphore asking = new Semaphore(1);
    private final LongSupplier nanoTime;
    private final Function<ForgeDescription, KnownForge> known;
    private final Function<String, OutlookSettings> settings;
    private final Function<String, Boolean> hasFit;
    // As many entries as forges.
    private final Map<String, Forge> forges = new ConcurrentHashMap<>();

    /** What is kept of one forge; guarded by itself. */
    private static final class Forge {
        private final ForecastScore score = new ForecastScore();
        private String burnId = "";
        private @Nullable KnownForge known;
        private double knownAtS;
        private double scoredToS;
        private @Nullable GatheredBurn burn;
        private @Nullable Outlook latest;
        private long atNanos;
        private @Nullable Outlook asked;
        private double askedPauseS;
    }

    /**
     * A keeper.
     *
     * @param known what the burns so far tell of a forge
     * @param settings what the user wants, by the forge's id
     * @param hasFit whether the burn of a forge that goes on has been fitted
     * @param nanoTime monotonic time, ns
     */
    public OutlookKeeper(
            Function<ForgeDescription, KnownForge> known,
            Function<String, OutlookSettings> settings,
            Function<String, Boolean> hasFit,
            LongSupplier nanoTime) {
        this.nanoTime = nanoTime;
        this.known = known;
        this.settings = settings;
        this.hasFit = hasFit;
    }

    @Override
    public void begun(String forge, String burnId) {
        Forge kept = of(forge);
        synchronized (kept) {
            kept.burnId = burnId;
            kept.score.newBurn();
            kept.known = null;
            kept.scoredToS = 0;
            clear(kept);
        }
    }

    private Forge of(String forge) {
        return forges.computeIfAbsent(forge, id -> new Forge());
    }

    private static void clear(Forge kept) {
        kept.burn = null;
        kept.latest = null;
        kept.asked = null;
    }

    @Override
    public void work(GatheredBurn burn) {
        String id = burn.forge().id();
        Forge kept = of(id);
        if (burn.stage() != Stage.BURNING) {
            synchronized (kept) {
                clear(kept);
            }
            return;
        }
        KnownForge forge;
        Outlook outlook;
        try {
            forge = known(kept, burn);
            outlook = Outlooks.of(forge, burn.record(), settings.apply(id));
        } catch (RuntimeException fault) {
            // What was seen before is stale by now.
            synchronized (kept) {
                clear(kept);
            }
            throw fault;
        }
        synchronized (kept) {
            if (!kept.burnId.equals(burn.burnId())) {
                // Another one has begun meanwhile.
                return;
            }
            score(kept, burn.record().stretches());
            kept.score.outlook(outlook);
            kept.burn = burn;
            kept.latest = outlook;
            kept.atNanos = nanoTime.getAsLong();
            kept.asked = null;
        }
    }

    private KnownForge known(Forge kept, GatheredBurn burn) {
        double atS = burn.record().endS();
        synchronized (kept) {
            if (kept.known != null && atS - kept.knownAtS < KNOWN_FOR_S) {
                return kept.known;
            }
        }
        // The store is asked without the lock, for it may be slow.
        KnownForge now = known.apply(burn.forge());
        synchronized (kept) {
            if (kept.burnId.equals(burn.burnId())) {
                kept.known = now;
                kept.knownAtS = atS;
            }
        }
        return now;
    }

    private static void score(Forge kept, List<Stretch> stretches) {
        for (Stretch stretch : stretches) {
            double middleS = (stretch.startS() + stretch.endS()) / 2;
            if (middleS > kept.scoredToS && stretch.samples() > 0) {
                kept.score.reading(middleS, stretch.chamberK());
                kept.scoredToS = middleS;
            }
        }
    }

    @Override
    public Optional<Seen> outlook(String forge, double pauseS) {
        Forge kept = forges.get(forge);
        if (kept == null) {
            return Optional.empty();
        }
        GatheredBurn burn;
        KnownForge told;
        Outlook outlook;
        synchronized (kept) {
            burn = kept.burn;
            told = kept.known;
            outlook = kept.latest;
            // Advice that rests on readings of minutes ago would stand as if it were of now.
            boolean stale = nanoTime.getAsLong() - kept.atNanos > STALE_NANOS;
            if (burn == null || outlook == null || told == null || stale) {
                return Optional.empty();
            }
            if (!Double.isNaN(pauseS) && kept.asked != null && kept.askedPauseS == pauseS) {
                outlook = kept.asked;
                pauseS = Double.NaN;
            }
        }
        if (!Double.isNaN(pauseS)) {
            outlook = asked(kept, told, burn, pauseS);
        }
        return Optional.of(new Seen(burn.burnId(), burn.start(), hasFit.apply(forge), outlook));
    }

    /**
     * Reckoned without the lock, which the ledger's thread takes when a burn begins. Those who ask for the same pause have the
     * same answer until the next outlook.
     */
    private Outlook asked(Forge kept, KnownForge told, GatheredBurn burn, double pauseS) {
        if (!asking.tryAcquire()) {
            throw new SourceException("the outlook for another pause is being reckoned");
        }
        try {
            OutlookSettings wanted = settings.apply(burn.forge().id()).withPause(pauseS);
            Outlook outlook = Outlooks.of(told, burn.record(), wanted);
            synchronized (kept) {
                if (burn.equals(kept.burn)) {
                    kept.asked = outlook;
                    kept.askedPauseS = pauseS;
                }
            }
            return outlook;
        } finally {
            asking.release();
        }
    }

    @Override
    public Score score(String forge) {
        Forge kept = of(forge);
        synchronized (kept) {
            return kept.score.score();
        }
    }
}
