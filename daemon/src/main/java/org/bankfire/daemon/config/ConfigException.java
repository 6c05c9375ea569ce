package org.bankfire.daemon.config;

import java.util.List;
import java.util.stream.Collectors;

/** The configuration cannot be used. The message has one line for each thing that is wrong. */
public final class ConfigException extends Exception {
    private static final long serialVersionUID = 1L;

    private final transient List<ConfigProblem> problems;

    ConfigException(List<ConfigProblem> problems) {
        super(problems.stream().map(ConfigProblem::text).collect(Collectors.joining("\n")));
        this.problems = List.copyOf(problems);
    }

    /** All of them, in the order of the file; at least one. */
    public List<ConfigProblem> problems() {
        return problems;
    }
}
