package org.bankfire.daemon.notify;

import java.util.Map;
import org.bankfire.analysis.alarm.Priority;
import org.jspecify.annotations.Nullable;

/**
 * One thing to tell, in every form that an output may need.
 *
 * @param forge the forge's id; null for a test
 * @param priority of the alarm; {@link Priority#LOW} for a test
 * @param json one object, without a line end
 * @param subject one line: what is wrong, and where
 * @param text some lines, the first of them the subject, the second what to do first
 * @param facts single facts by name, for programs that read no JSON
 */
record Message(
        @Nullable String forge,
        Priority priority,
        String json,
        String subject,
        String text,
        Map<String, String> facts) {
    Message {
        facts = Map.copyOf(facts);
    }
}
