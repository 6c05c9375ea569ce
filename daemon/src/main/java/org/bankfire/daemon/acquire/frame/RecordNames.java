package org.bankfire.daemon.acquire.frame;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Setting;
import org.jspecify.annotations.Nullable;

/**
 * Splits SenML names into forge and channel, and keeps the outcome so that a name costs one look-up a record.
 *
 * <p>The forge is what stands before the first colon, for a forge's id holds none. Where that is no forge id
 * ({@code a/b:c}), or there is no colon, the whole name is a channel of the default forge. A name that begins
 * {@code urn:} is that of a device (RFC 8428 recommends URNs): the whole of it is a channel of the default forge too;
 * only without a default forge is it split like any other, into the forge {@code urn} and the rest.
 */
final class RecordNames {
    /**
     * A thousand forges with 16 channels each, some 4 MB; beyond it names are split anew each time, so a source cannot eat
     * memory.
     */
    static final int MAX_KEPT = 16_384;

    private static final int MAX_FORGE_LENGTH = 64;
    private static final String URN = "urn:";

    /**
     * What a name means.
     *
     * @param faultOf the channel that a name ending in {@code -fault} speaks of; null for any other name
     * @param setting whether it is a setting's name
     */
    record RecordName(Channel channel, @Nullable Channel faultOf, boolean setting) {}

    private final @Nullable String defaultForge;
    private final Map<String, RecordName> kept = new ConcurrentHashMap<>();

    /** Splits with that default forge; null refuses names without a forge. */
    RecordNames(@Nullable String defaultForge) {
        this.defaultForge = defaultForge;
    }

    /** The meaning of a whole name. */
    RecordName of(String name) throws BadFrameException {
        RecordName known = kept.get(name);
        if (known != null) {
            return known;
        }
        RecordName split = split(name);
        if (kept.size() < MAX_KEPT) {
            kept.put(name, split);
        }
        return split;
    }

    private RecordName split(String name) throws BadFrameException {
        check(name);
        int colon = name.indexOf(':');
        boolean forgeFirst = colon > 0
                && colon <= MAX_FORGE_LENGTH
                && name.lastIndexOf('/', colon) < 0
                && !(defaultForge != null && name.startsWith(URN));
        String forge = forgeFirst ? name.substring(0, colon) : defaultForge;
        if (forge == null) {
            throw new BadFrameException("name " + TextValues.quoted(name)
                    + " has no forge; allowed is a forge id, ':' and a channel, such as \"shed:chamber\"");
        }
        String channelName = forgeFirst ? name.substring(colon + 1) : name;
        try {
            Channel channel = new Channel(forge, channelName);
            Channel faultOf = null;
            int bare = channelName.length() - ChannelNames.FAULT_SUFFIX.length();
            if (bare > 0 && channelName.endsWith(ChannelNames.FAULT_SUFFIX)) {
                faultOf = new Channel(forge, channelName.substring(0, bare));
            }
            return new RecordName(channel, faultOf, Setting.isSetting(channelName));
        } catch (IllegalArgumentException e) {
            throw new BadFrameException(
                    "name " + TextValues.quoted(name) + ": channel "
                            + TextValues.quoted(channelName)
                            + "; allowed are 1 to 128 letters, digits, '-', ':', '.', '/' and '_', the first a letter or digit");
        }
    }

    /** RFC 8428 section 4.5.1. */
    private static void check(String name) throws BadFrameException {
        if (name.isEmpty()) {
            throw new BadFrameException(
                    "name is empty; allowed is \"bn\", \"n\" or both together, such as \"shed:chamber\"");
        }
        for (int i = 0; i < name.length(); i++) {
            char c = name.charAt(i);
            boolean alphanumeric = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
            boolean mark = c == '-' || c == ':' || c == '.' || c == '/' || c == '_';
            if (!(alphanumeric || (mark && i > 0))) {
                throw new BadFrameException("name " + TextValues.quoted(name)
                        + "; allowed are letters, digits, '-', ':', '.', '/' and '_', the first a letter or digit");
            }
        }
    }
}
