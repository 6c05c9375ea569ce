package org.bankfire.daemon.ledger;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.StoreException;

/** Recorded readings through the same pipeline as live ones, in event time, as fast as it goes. */
public final class RecordedRun {
    private final Pipeline pipeline;
    private final RecordSink output;
    private final Consumer<String> warnings;
    private final Set<String> unknownForges = new HashSet<>();

    /**
     * A run that has not begun.
     *
     * @param output where everything goes
     * @param warnings told once of each forge that is not configured
     */
    public RecordedRun(List<ForgeConfig> forges, RecordSink output, Consumer<String> warnings) {
        this.pipeline = new Pipeline(forges, output);
        this.output = output;
        this.warnings = warnings;
    }

    /** Takes one recorded pack; packs come in time order. */
    public void accept(Pack recorded) throws StoreException {
        WallTime time = RecordedPack.firstTime(recorded);
        if (time == null) {
            return;
        }
        warnOfUnknownForges(recorded);
        // Deadlines of every forge that fall before this pack come first, so that events are in time order.
        for (ForgeLane lane : pipeline.lanes()) {
            if (lane.hasBegun()) {
                lane.monitor().advance(time);
            }
        }
        output.onRecord(recorded);
        pipeline.accept(RecordedPack.asSent(recorded));
        output.afterPack();
    }

    /** The record has ended. */
    public void finish() throws StoreException {
        output.atEnd();
    }

    private void warnOfUnknownForges(Pack pack) {
        for (Reading reading : pack.readings()) {
            String forge = reading.channel().forge();
            // The set is bounded by the ids in files that the user chose.
            if (pipeline.lane(forge) == null && unknownForges.add(forge)) {
                warnings.accept("forge \"" + forge + "\" is not in the configuration: its readings are not watched");
            }
        }
    }
}
