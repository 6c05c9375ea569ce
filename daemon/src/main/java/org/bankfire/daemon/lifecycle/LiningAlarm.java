package org.bankfire.daemon.lifecycle;

import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.fitting.FitKeeper;
import org.bankfire.daemon.ledger.ForgeLane;
import org.bankfire.daemon.ledger.Ledgers;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Tells a forge's monitor, on the ledger thread, whether its lining loses more than it did. */
final class LiningAlarm implements FitKeeper.LiningListener {
    private static final Logger log = LoggerFactory.getLogger(LiningAlarm.class);

    private final Ledgers ledgers;
    private final ReceiptClock clock;

    LiningAlarm(Ledgers ledgers, ReceiptClock clock) {
        this.ledgers = ledgers;
        this.clock = clock;
    }

    @Override
    public void onTrend(String forge, LiningTrend trend, double latestWPerK) {
        var told = ledgers.request(forge, pipeline -> {
                    ForgeLane lane = pipeline.lane(forge);
                    if (lane != null) {
                        lane.monitor()
                                .condition(
                                        AlarmId.LINING_LOSS_UP,
                                        trend.lossUp(),
                                        clock.stamp(),
                                        latestWPerK,
                                        trend.why());
                    }
                    return trend.lossUp();
                })
                .exceptionally(failure -> {
                    log.warn("the lining's trend of {} could not be told: {}", forge, failure.getMessage());
                    return false;
                });
        log.debug("lining of {}: {}; {}", forge, trend.why(), told);
    }
}
