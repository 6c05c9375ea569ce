package org.bankfire.analysis.monitor;

import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.burn.BurnListener;
import org.bankfire.analysis.burn.BurnTracker;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Gives the burns that a {@link BurnTracker} tells apart their names and wall times, and passes them on. A burn keeps the
 * name that it was lit with, whatever happens to clocks while it lasts.
 */
final class BurnBook {
    private final String forge;
    private final EventClock clock;
    private final Channels channels;
    private final ForgeListener listener;
    private final BurnTracker tracker;
    private @Nullable String id;
    private WallTime start = new WallTime(0);

    BurnBook(String forge, EventClock clock, Channels channels, double steadyBandKPerMin, ForgeListener listener) {
        this.forge = forge;
        this.clock = clock;
        this.channels = channels;
        this.listener = listener;
        this.tracker = new BurnTracker(new Stages(), steadyBandKPerMin);
    }

    BurnTracker tracker() {
        return tracker;
    }

    /** The burn in progress, or the last one; null before the first. */
    @Nullable
    Burn burn() {
        String known = id;
        if (known == null) {
            return null;
        }
        WallTime end = tracker.isBurning() ? null : clock.wall(tracker.endMicros());
        return new Burn(known, forge, start, end, tracker.gasUsedKg(), tracker.peakC());
    }

    private final class Stages implements BurnListener {
        @Override
        public void onStage(BurnBoundary.Stage stage, long atMicros, String why) {
            if (stage == BurnBoundary.Stage.LIT) {
                start = clock.wall(tracker.startMicros());
                id = Burn.idOf(forge, start);
            }
            String known = id;
            if (known != null) {
                listener.onBurnBoundary(
                        new BurnBoundary(forge, known, clock.wall(atMicros), stage, channels.chamberC(), why));
            }
        }

        @Override
        public void onProgress(long atMicros) {
            Burn burn = burn();
            if (burn != null) {
                listener.onBurn(burn);
            }
        }
    }
}
