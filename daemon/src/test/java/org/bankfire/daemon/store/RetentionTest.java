package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class RetentionTest {
    @Test
    void whatIsOlderThanTwoYearsIsDeletedUnlessToldOtherwise() throws Exception {
        RecordingStore store = new RecordingStore();
        WallTime now = WallTime.of(Instant.parse("2028-03-01T12:00:00.5Z"));
        assertThat(Retention.STANDARD.apply(store, now)).isEqualTo(17);
        new Retention(Duration.ofDays(1)).apply(store, now);
        // 2028 has a 29th of February, so 730 days before is the 2nd of March.
        assertThat(store.pruned())
                .containsExactly(
                        new TimeRange(TimeRange.ALL.from(), WallTime.of(Instant.parse("2026-03-02T12:00:00.5Z"))),
                        new TimeRange(TimeRange.ALL.from(), WallTime.of(Instant.parse("2028-02-29T12:00:00.5Z"))));
    }

    @Test
    void lessThanADayIsRefused() {
        assertThatThrownBy(() -> new Retention(Duration.ofHours(23)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("PT23H")
                .hasMessageContaining("a day or more");
    }
}
