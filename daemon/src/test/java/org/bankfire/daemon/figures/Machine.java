package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;

/** What the figures were taken on. */
final class Machine {
    private Machine() {}

    /** Processor, memory, system, virtual machine, date and commit in one sentence. */
    static String inWords() throws IOException, InterruptedException {
        return String.format(
                Locale.ROOT,
                "%s, %d cores, %.1f GB; %s, Linux %s; %s %s; Mosquitto %s, %s; %s, commit %s.",
                field(Path.of("/proc/cpuinfo"), "model name"),
                Runtime.getRuntime().availableProcessors(),
                Long.parseLong(field(Path.of("/proc/meminfo"), "MemTotal").replaceAll("[^0-9]", "")) / 1024.0 / 1024,
                field(Path.of("/etc/os-release"), "PRETTY_NAME").replace("\"", ""),
                System.getProperty("os.version"),
                System.getProperty("java.vm.name"),
                System.getProperty("java.runtime.version"),
                said("mosquitto", "-h").replaceAll("(?s)^mosquitto version ([0-9.]+).*", "$1"),
                said("/usr/bin/python3", "--version"),
                LocalDate.now(java.time.ZoneOffset.UTC),
                said("git", "describe", "--always", "--dirty"));
    }

    private static String field(Path file, String name) throws IOException {
        for (String line : Files.readAllLines(file)) {
            if (line.startsWith(name)) {
                return line.replaceFirst("^[^:=]*[:=]\\s*", "").strip();
            }
        }
        return "unknown " + name;
    }

    private static String said(String... command) throws InterruptedException {
        try {
            Process process = new ProcessBuilder(List.of(command))
                    .redirectErrorStream(true)
                    .start();
            String text = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
            process.waitFor();
            return text;
        } catch (IOException missing) {
            return "unknown";
        }
    }
}
