package org.bankfire.daemon.config;

import java.net.URI;
import java.nio.file.Path;
import java.util.List;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.jspecify.annotations.Nullable;

/** Where alarms are told beside the page: one {@code [[output]]}. Secrets are named by their files only. */
public sealed interface OutputConfig {
    Telling telling();

    /** The word in the configuration. */
    String kind();

    /**
     * What every output has.
     *
     * @param name 1 to 64 letters, digits, '-', '.' and '_'; its own
     * @param leastPriority alarms of this priority and graver are told
     * @param forges ids of the forges whose alarms are told; empty for all
     * @param returns whether it is told that a cause has gone
     * @param acknowledgements whether it is told what people did: acknowledging, shelving, taking out of service
     * @param giveUpS how long delivery of an alarm that is not critical is tried, s
     * @param giveUpCriticalS the same of a critical one, s
     */
    record Telling(
            String name,
            Priority leastPriority,
            List<String> forges,
            boolean returns,
            boolean acknowledgements,
            double giveUpS,
            double giveUpCriticalS) {
        public Telling {
            forges = List.copyOf(forges);
        }
    }

    /**
     * {@code kind = "mqtt"}.
     *
     * @param broker without topics to subscribe to; its status topic is the daemon's
     * @param prefix first level or levels of every topic
     * @param heartbeatS between two beats, s
     */
    record Mqtt(Telling telling, MqttSettings broker, String prefix, double heartbeatS) implements OutputConfig {
        @Override
        public String kind() {
            return "mqtt";
        }
    }

    /**
     * {@code kind = "webhook"}.
     *
     * @param url null when it is in {@code urlFile}
     * @param urlFile its first line is the address, for one that is a secret itself
     * @param tokenFile its first line is sent as bearer token; null for none
     * @param headersFile lines of {@code Name: value}; null for none
     * @param caFile PEM certificates to trust; null for those of Java
     */
    record Webhook(
            Telling telling,
            @Nullable URI url,
            @Nullable Path urlFile,
            @Nullable Path tokenFile,
            @Nullable Path headersFile,
            @Nullable Path caFile)
            implements OutputConfig {
        @Override
        public String kind() {
            return "webhook";
        }
    }

    /**
     * {@code kind = "mail"}.
     *
     * @param port 1 to 65535
     * @param user null for none
     * @param passwordFile its first line is the password; null for none
     * @param to one at least
     * @param caFile PEM certificates to trust; null for those of Java
     */
    record Mail(
            Telling telling,
            String host,
            int port,
            Security security,
            @Nullable String user,
            @Nullable Path passwordFile,
            String from,
            List<String> to,
            @Nullable Path caFile)
            implements OutputConfig {
        public Mail {
            to = List.copyOf(to);
        }

        @Override
        public String kind() {
            return "mail";
        }
    }

    /** How a connection to a mail server is kept secret. */
    enum Security {
        /** Begins in the open and must turn to TLS before anything is said. */
        STARTTLS,
        /** TLS from the first byte. */
        TLS,
        NONE
    }

    /**
     * {@code kind = "command"}.
     *
     * @param program absolute path, or a name that is looked for in PATH
     * @param timeoutS after which it is ended, s
     */
    record Command(Telling telling, String program, List<String> arguments, double timeoutS) implements OutputConfig {
        public Command {
            arguments = List.copyOf(arguments);
        }

        @Override
        public String kind() {
            return "command";
        }
    }
}
