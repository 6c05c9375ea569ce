package org.bankfire.dashboard.source;

import java.util.Map;

/**
 * What a forge would do if it were changed, beside what it does today. Nothing is kept, and the configuration stays as it
 * is. Safe for use by many threads; an answer takes seconds. May throw {@link SourceException}.
 */
public interface WhatIf {
    /** Most keys that one question changes: every key of a forge of a dozen layers. */
    int MOST_CHANGES = 64;

    /**
     * A question.
     *
     * @param page who asks: its newer question takes the place of an older one; empty for nobody in particular
     * @param changes keys of the forge, dotted, as {@code --set} of {@code predict} takes them, with their values
     */
    record Asked(String page, Map<String, String> changes) {
        public Asked {
            changes = Map.copyOf(changes);
        }
    }

    /**
     * What may be changed, and how it is today.
     *
     * @return one JSON object, as the schema {@code WhatIfKeys} of the API's document describes it
     */
    String keys(String forge);

    /**
     * Two predictions, today and changed, and by how much they differ.
     *
     * @return one JSON object, as the schema {@code WhatIf} of the API's document describes it
     * @throws RefusedException when a key or a value cannot be used
     * @throws BusyException when there is no room to wait, or a newer question took the place
     */
    String answer(String forge, Asked asked);

    /** A key or a value that cannot be used. */
    final class RefusedException extends RuntimeException {
        private static final long serialVersionUID = 1L;

        private final String key;
        private final String value;
        private final String allowed;
        private final String nearest;

        /**
         * A refusal.
         *
         * @param message the whole of it in words
         * @param key dotted
         * @param value as it was sent
         * @param allowed what would be taken, in words
         * @param nearest the key or word that was probably meant; empty for none
         */
        public RefusedException(String message, String key, String value, String allowed, String nearest) {
            super(message);
            this.key = key;
            this.value = value;
            this.allowed = allowed;
            this.nearest = nearest;
        }

        public String key() {
            return key;
        }

        public String value() {
            return value;
        }

        public String allowed() {
            return allowed;
        }

        public String nearest() {
            return nearest;
        }
    }

    /** Others are being answered, or a newer question of the same page took the place of this one. */
    final class BusyException extends RuntimeException {
        private static final long serialVersionUID = 1L;

        private final boolean replaced;

        /**
         * A refusal for now.
         *
         * @param replaced whether a newer question of the same page took the place
         */
        public BusyException(String message, boolean replaced) {
            super(message);
            this.replaced = replaced;
        }

        public boolean replaced() {
            return replaced;
        }
    }
}
