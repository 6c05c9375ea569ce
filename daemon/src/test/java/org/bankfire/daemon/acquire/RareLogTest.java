package org.bankfire.daemon.acquire;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import org.junit.jupiter.api.Test;

class RareLogTest {
    @Test
    void logsOneInTenSecondsAndTellsHowManyWerePassedOver() {
        LoggerContext context = new LoggerContext();
        Logger logger = context.getLogger("rare");
        ListAppender<ILoggingEvent> seen = new ListAppender<>();
        seen.start();
        logger.addAppender(seen);
        HandClock hand = new HandClock();
        RareLog log = new RareLog(logger, hand.receiptClock());

        log.warn("lost 1");
        log.warn("lost 2");
        hand.pass(9_999_999);
        log.warn("lost 3");
        hand.pass(1);
        log.warn("lost 4");
        hand.pass(10_000_000);
        log.warn("lost 5");

        assertThat(seen.list)
                .extracting(ILoggingEvent::getFormattedMessage)
                .containsExactly("lost 1", "lost 4 (and 2 like it since the last one)", "lost 5");
    }
}
