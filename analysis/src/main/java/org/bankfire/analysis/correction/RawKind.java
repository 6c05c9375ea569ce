package org.bankfire.analysis.correction;

import org.bankfire.analysis.reading.ChannelNames;

/** In what form a source reports a channel; where one frame holds several, the first listed here decides. */
enum RawKind {
    EMF(ChannelNames.EMF_SUFFIX),
    LINEAR(ChannelNames.LINEAR_SUFFIX),
    VOLTS(ChannelNames.VOLTS_SUFFIX),
    RATIO(ChannelNames.RATIO_SUFFIX),
    /** Kept beside its corrected value by an earlier correction. */
    RAW(ChannelNames.RAW_SUFFIX),
    /** Under the channel's own name. */
    PLAIN("");

    private final String suffix;

    RawKind(String suffix) {
        this.suffix = suffix;
    }

    String suffix() {
        return suffix;
    }

    /** The form that a record name says. */
    static RawKind of(String recordName) {
        for (RawKind kind : values()) {
            if (recordName.endsWith(kind.suffix) && recordName.length() > kind.suffix.length()) {
                return kind;
            }
        }
        return PLAIN;
    }

    /** Name of the channel that {@code recordName} of this form speaks of. */
    String channelName(String recordName) {
        return recordName.substring(0, recordName.length() - suffix.length());
    }
}
