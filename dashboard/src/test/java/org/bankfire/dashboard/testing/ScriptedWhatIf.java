package org.bankfire.dashboard.testing;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.bankfire.dashboard.source.WhatIf;
import org.jspecify.annotations.Nullable;

/** Answers with what the daemon's own code has answered for the forge of the fixtures, and remembers what was asked. */
public final class ScriptedWhatIf implements WhatIf {
    private final List<Asked> asked = new CopyOnWriteArrayList<>();
    private volatile String keys = ScriptedForge.resource("what-if-keys.json");
    private volatile String answer = ScriptedForge.resource("what-if.json");
    private volatile @Nullable RuntimeException failure;

    @Override
    public String keys(String forge) {
        return keys;
    }

    @Override
    public String answer(String forge, Asked question) {
        asked.add(question);
        RuntimeException failing = failure;
        if (failing != null) {
            throw failing;
        }
        return answer;
    }

    /** All questions so far. */
    public List<Asked> asked() {
        return List.copyOf(asked);
    }

    /** Other answers from now on. */
    public void answers(String keysJson, String answerJson) {
        keys = keysJson;
        answer = answerJson;
    }

    /** Fails from now on; null for no more. */
    public void fail(@Nullable RuntimeException why) {
        failure = why;
    }
}
