package org.bankfire.daemon.logging;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.spi.Configurator;
import ch.qos.logback.classic.spi.ConfiguratorRank;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.spi.ContextAwareBase;

/**
 * The log: lines on standard error, because standard output belongs to results. Set up in code because to read a file for
 * it loads an XML parser, which takes longer than to open the store. A file that somebody names with
 * {@code -Dlogback.configurationFile} comes before it.
 */
@ConfiguratorRank(LogSetup.RANK)
public final class LogSetup extends ContextAwareBase implements Configurator {
    /** After what looks for a file, before what sets up a plain log. */
    static final int RANK = (ConfiguratorRank.NOMINAL + ConfiguratorRank.FALLBACK) / 2;

    private static final String PATTERN = "%d{yyyy-MM-dd'T'HH:mm:ss.SSSXXX} %-5level %logger{0}: %msg%n%ex{short}";

    @Override
    public ExecutionStatus configure(LoggerContext context) {
        PatternLayoutEncoder encoder = new PatternLayoutEncoder();
        encoder.setContext(context);
        encoder.setPattern(PATTERN);
        encoder.start();
        ConsoleAppender<ILoggingEvent> lines = new ConsoleAppender<>();
        lines.setContext(context);
        lines.setName("STDERR");
        lines.setTarget("System.err");
        lines.setEncoder(encoder);
        lines.start();
        Logger root = context.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
        root.setLevel(Level.INFO);
        root.addAppender(lines);
        // Their own starts and ends are nobody's business here.
        context.getLogger("org.eclipse.jetty").setLevel(Level.WARN);
        context.getLogger("io.javalin").setLevel(Level.WARN);
        return ExecutionStatus.DO_NOT_INVOKE_NEXT_IF_ANY;
    }
}
