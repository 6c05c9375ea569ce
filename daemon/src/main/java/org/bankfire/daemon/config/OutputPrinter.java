package org.bankfire.daemon.config;

import java.nio.file.Path;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.config.OutputConfig.Telling;
import org.jspecify.annotations.Nullable;

/** Prints outputs as TOML. */
final class OutputPrinter {
    private final TomlText text;

    OutputPrinter(TomlText text) {
        this.text = text;
    }

    void print(OutputConfig output) {
        Telling telling = output.telling();
        text.header("[[output]]")
                .text("kind", output.kind())
                .text("name", telling.name())
                .text("least-priority", telling.leastPriority().code());
        if (!telling.forges().isEmpty()) {
            text.texts("forges", telling.forges());
        }
        text.flag("tell-returns", telling.returns())
                .flag("tell-acknowledgements", telling.acknowledgements())
                .quantity("give-up", Dimension.DURATION, telling.giveUpS(), "h")
                .quantity("give-up-critical", Dimension.DURATION, telling.giveUpCriticalS(), "h");
        if (output instanceof OutputConfig.Mqtt mqtt) {
            mqtt(mqtt);
        } else if (output instanceof OutputConfig.Webhook webhook) {
            webhook(webhook);
        } else if (output instanceof OutputConfig.Mail mail) {
            mail(mail);
        } else if (output instanceof OutputConfig.Command command) {
            text.text("program", command.program());
            if (!command.arguments().isEmpty()) {
                text.texts("arguments", command.arguments());
            }
            text.quantity("timeout", Dimension.DURATION, command.timeoutS(), "s");
        }
    }

    private void mqtt(OutputConfig.Mqtt mqtt) {
        MqttSettings broker = mqtt.broker();
        text.text("broker", broker.uri()).text("client-id", broker.clientId());
        optional("user", broker.user());
        file("password-file", broker.passwordFile());
        file("ca-file", broker.caFile());
        text.text("prefix", mqtt.prefix()).quantity("heartbeat", Dimension.DURATION, mqtt.heartbeatS(), "s");
    }

    private void webhook(OutputConfig.Webhook webhook) {
        optional("url", webhook.url() == null ? null : webhook.url().toString());
        file("url-file", webhook.urlFile());
        file("token-file", webhook.tokenFile());
        file("headers-file", webhook.headersFile());
        file("ca-file", webhook.caFile());
    }

    private void mail(OutputConfig.Mail mail) {
        text.text("host", mail.host())
                .number("port", mail.port())
                .text("security", ConfigPrinter.word(OutputsReader.SECURITIES, mail.security()));
        optional("user", mail.user());
        file("password-file", mail.passwordFile());
        text.text("from", mail.from()).texts("to", mail.to());
        file("ca-file", mail.caFile());
    }

    private void optional(String key, @Nullable String value) {
        if (value != null) {
            text.text(key, value);
        }
    }

    private void file(String key, @Nullable Path path) {
        optional(key, path == null ? null : path.toString());
    }
}
