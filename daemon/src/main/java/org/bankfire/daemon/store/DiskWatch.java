package org.bankfire.daemon.store;

import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Watches the space on the disk that holds the store. A check asks the operating system, which may not answer when the
 * disk hangs: it belongs on a thread that no alarm waits for.
 */
public final class DiskWatch {
    /** Three weeks of a forge that burns eight hours a week with 40 readings of 50 bytes a second. */
    static final long LEAST_USABLE_BYTES = 200_000_000L;

    /** Memory cards and copy-on-write file systems slow down and wear when filled to the brim. */
    static final double LEAST_USABLE_SHARE = 0.02;

    private final Path path;

    /** @param path of the store's file or its folder; it must exist by the time of the first check */
    public DiskWatch(Path path) {
        this.path = path.toAbsolutePath();
    }

    /**
     * How full the disk is.
     *
     * @param usableBytes what this process may still write
     * @param leastBytes below this the disk is nearly full: the greater of 200 MB and 2 % of the disk
     */
    public record State(long usableBytes, long leastBytes) {
        static State of(long usableBytes, long totalBytes) {
            return new State(
                    usableBytes, Math.max(LEAST_USABLE_BYTES, (long) Math.ceil(totalBytes * LEAST_USABLE_SHARE)));
        }

        public boolean nearlyFull() {
            return usableBytes < leastBytes;
        }

        /** The state in words, to stand after the disk's name. */
        public String words() {
            return usableBytes / 1_000_000 + " MB left, "
                    + (nearlyFull() ? "less than the " : "at least ") + leastBytes / 1_000_000
                    + " MB that should be";
        }
    }

    public State check() throws StoreException {
        try {
            FileStore disk = Files.getFileStore(path);
            return State.of(disk.getUsableSpace(), disk.getTotalSpace());
        } catch (IOException e) {
            throw new StoreException("the disk of " + path + " does not tell its free space: " + e, e);
        }
    }
}
