package org.bankfire.daemon.lifecycle;

import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.function.ToLongFunction;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.BurnTaker;
import org.bankfire.daemon.fitting.FitOutput;
import org.bankfire.daemon.ledger.DaemonUpkeep;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Lease;
import org.bankfire.daemon.ledger.LedgerMemory;
import org.bankfire.daemon.ledger.LedgerParts;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.PipelineOutput;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.notify.AlarmTap;
import org.bankfire.daemon.notify.Outputs;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreWriter;

/** Wires what one run of the ledger thread works with; it waits for no store. */
record LiveParts(
        List<ForgeConfig> forges,
        LedgerMemory memory,
        StoreWriter writer,
        EventWriter events,
        List<BurnTaker> burnWorkers,
        Outputs outputs,
        ReceiptClock clock,
        ReceiptClock.Steps clockSteps,
        Housekeeping housekeeping,
        ToLongFunction<String> takePassedOver,
        Supplier<Optional<ServerLag>> serverLag)
        implements LedgerParts.Maker {
    /** A cool-down long enough to tell losses from stored heat, s. */
    private static final double FIT_COOL_DOWN_S = 1_200;

    @Override
    public LedgerParts make(Lease lease) {
        StoreOutput kept = new StoreOutput(writer, events, lease);
        FitOutput gathered = new FitOutput(
                kept, forges.stream().map(ForgeConfig::description).toList(), FIT_COOL_DOWN_S, burnWorkers);
        PipelineOutput output = memory.before(lease, new AlarmTap(gathered, outputs));
        Pipeline pipeline =
                new Pipeline(forges, output, new Pipeline.Aside(memory.aside(), memory.before(lease, kept)), lease);
        memory.restore(pipeline, gathered::restore);
        return new LedgerParts(
                pipeline,
                output,
                kept,
                new DaemonUpkeep(
                        pipeline,
                        clock,
                        clockSteps,
                        writer,
                        housekeeping::diskNearlyFull,
                        takePassedOver,
                        serverLag,
                        output));
    }
}
