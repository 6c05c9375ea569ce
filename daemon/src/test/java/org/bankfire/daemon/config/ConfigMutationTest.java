package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Good files damaged at random: whatever comes out is a configuration or a list of problems. */
class ConfigMutationTest {
    private static final int FILES = 1200;
    private static final String BITS = "[]{}=.\"'#\n,-_0189eE+ aé°\u0000\t\\";

    private static final List<String> VALUES = List.of(
            "1",
            "-1",
            "0.0",
            "nan",
            "-inf",
            "9223372036854775807",
            "true",
            "\"\"",
            "\"x\"",
            "[]",
            "[[]]",
            "{}",
            "[{}]",
            "\"1 mm\"",
            "\"1e308 bar\"",
            "\"-300 degC\"",
            "\"1e-300 K\"",
            "2026-01-01",
            "12:00:00",
            "\"0 s\"",
            "'''\n'''");

    @Test
    void aDamagedFileGivesAConfigurationOrProblemsAndNothingElse() throws IOException {
        Random random = new Random(20260303);
        List<String> examples = List.of(Examples.text("shed.toml"), Examples.text("reference.toml"));
        int good = 0;
        int bad = 0;
        for (int i = 0; i < FILES; i++) {
            String text = damaged(examples.get(i % 10 == 0 ? 1 : 0), random);
            try {
                BankfireConfig config =
                        ConfigReader.read(text, "damaged.toml", Examples.FOLDER).config();
                String printed = ConfigPrinter.print(config);
                assertThat(ConfigReader.read(printed, "printed.toml", Examples.FOLDER)
                                .config())
                        .as(text)
                        .isEqualTo(config);
                good++;
            } catch (ConfigException e) {
                assertThat(e.problems()).isNotEmpty().allSatisfy(problem -> {
                    assertThat(problem.file()).as(text).isEqualTo("damaged.toml");
                    assertThat(problem.line())
                            .as(text)
                            .isBetween(1, (int) text.lines().count() + 1);
                    assertThat(problem.allowed()).as(text).isNotBlank();
                });
                bad++;
            } catch (RuntimeException e) {
                throw new AssertionError("file " + i + ":\n" + text, e);
            }
        }
        assertThat(good).isGreaterThan(FILES / 50);
        assertThat(bad).isGreaterThan(FILES / 2);
    }

    private static String damaged(String text, Random random) {
        List<String> lines = new ArrayList<>(text.lines().toList());
        int times = 1 + random.nextInt(3);
        for (int i = 0; i < times; i++) {
            int at = random.nextInt(lines.size());
            String line = lines.get(at);
            switch (random.nextInt(6)) {
                case 0 -> lines.remove(at);
                case 1 -> lines.add(random.nextInt(lines.size()), line);
                case 2 -> lines.set(at, lines.set(random.nextInt(lines.size()), line));
                case 3 -> lines.set(at, withBit(line, random));
                case 4 -> lines.set(at, withoutLetter(line, random));
                default -> lines.set(at, line.replaceFirst("=.*", "= ") + VALUES.get(random.nextInt(VALUES.size())));
            }
        }
        return String.join("\n", lines) + "\n";
    }

    private static String withBit(String line, Random random) {
        int at = random.nextInt(line.length() + 1);
        char bit = BITS.charAt(random.nextInt(BITS.length()));
        return line.substring(0, at) + bit + line.substring(Math.min(line.length(), at + random.nextInt(2)));
    }

    private static String withoutLetter(String line, Random random) {
        if (line.isEmpty()) {
            return line;
        }
        int at = random.nextInt(line.length());
        return line.substring(0, at) + line.substring(at + 1);
    }
}
