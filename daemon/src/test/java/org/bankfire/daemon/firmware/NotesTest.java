package org.bankfire.daemon.firmware;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class NotesTest {
    private static final Pattern LINK = Pattern.compile("\\]\\(([^)#]*)(?:#([^)]*))?\\)");

    @Test
    void checksumIsThePublishedOne() {
        // Check value of CRC-16/CCITT-FALSE (also IBM-3740) in the usual catalogues.
        assertThat(Notes.checksum("123456789")).isEqualTo("29B1");
    }

    @Test
    void everyExampleLineEndsInItsOwnChecksum() throws IOException {
        List<String> lines = Notes.exampleLines(Notes.folder().resolve("line-protocol.md"));
        assertThat(lines).hasSizeGreaterThanOrEqualTo(7);
        for (String line : lines) {
            int star = line.lastIndexOf(" *");
            assertThat(line.substring(star + 2)).as(line).isEqualTo(Notes.checksum(line.substring(0, star)));
            assertThat(line.getBytes(StandardCharsets.UTF_8).length).isLessThanOrEqualTo(4_096);
        }
    }

    @Test
    void everyLinkLeadsSomewhere() throws IOException {
        for (Path page : Notes.pages()) {
            Matcher link = LINK.matcher(Files.readString(page));
            while (link.find()) {
                String target = link.group(1);
                if (target.startsWith("https://")) {
                    continue;
                }
                Path file = target.isEmpty() ? page : page.resolveSibling(target);
                assertThat(file)
                        .as("%s links to %s", page.getFileName(), target)
                        .exists();
                String anchor = link.group(2);
                if (anchor != null) {
                    assertThat(headings(file)).as("anchors of %s", target).contains(anchor);
                }
            }
        }
    }

    @Test
    void theIndexLeadsToEverything() throws IOException {
        Path index = Notes.folder().resolve("README.md");
        Set<Path> linked = new HashSet<>();
        Matcher link = LINK.matcher(Files.readString(index));
        while (link.find()) {
            linked.add(index.resolveSibling(link.group(1)).normalize());
        }
        for (Path page : Notes.pages()) {
            if (!page.equals(index)) {
                assertThat(linked).contains(page);
            }
        }
        for (String source : List.of("sketch/forge.c", "sketch/Makefile", "sketch/test/host.c")) {
            assertThat(linked).contains(Notes.folder().resolve(source));
        }
    }

    @Test
    void theIndexCarriesTheCautions() throws IOException {
        String index = Files.readString(Notes.folder().resolve("README.md"));
        assertThat(index)
                .contains("not a flame safeguard")
                .contains("*listed* flame-safeguard valve")
                .contains("carbon monoxide alarm")
                .contains("no basements")
                .contains("close the gas at the cylinder")
                .contains("Local codes");
    }

    private static Set<String> headings(Path page) throws IOException {
        return Files.readAllLines(page).stream()
                .filter(line -> line.startsWith("#"))
                .map(line ->
                        line.replaceFirst("^#+ ", "").toLowerCase(Locale.ROOT).replace(' ', '-'))
                .collect(Collectors.toSet());
    }
}
