package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DiskWatchTest {
    @Test
    void aSmallDiskIsNearlyFullBelowTwoHundredMegabytes() {
        assertThat(DiskWatch.State.of(199_999_999, 8_000_000_000L).nearlyFull()).isTrue();
        assertThat(DiskWatch.State.of(200_000_000, 8_000_000_000L).nearlyFull()).isFalse();
    }

    @Test
    void aLargeDiskIsNearlyFullBelowTwoPercent() {
        assertThat(DiskWatch.State.of(1_279_999_999, 64_000_000_000L).nearlyFull())
                .isTrue();
        DiskWatch.State state = DiskWatch.State.of(1_280_000_000, 64_000_000_000L);
        assertThat(state.nearlyFull()).isFalse();
        assertThat(state.words()).isEqualTo("1280 MB left, at least 1280 MB that should be");
    }

    @Test
    void aRealDiskIsAsked(@TempDir Path folder) throws Exception {
        long usable = Files.getFileStore(folder).getUsableSpace();
        DiskWatch.State state = new DiskWatch(folder).check();
        // Others write to this disk meanwhile.
        assertThat(state.usableBytes()).isBetween(usable / 2, usable * 2 + 1);
        assertThat(state.leastBytes()).isGreaterThanOrEqualTo(200_000_000L);
    }

    @Test
    void aMissingFolderIsAnError(@TempDir Path folder) {
        assertThatThrownBy(() -> new DiskWatch(folder.resolve("gone")).check())
                .isInstanceOf(StoreException.class)
                .hasMessageContaining("gone");
    }
}
