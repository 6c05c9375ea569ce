package org.bankfire.daemon.acquire.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.zip.GZIPOutputStream;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordingProblem.Answer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RecordedBurnReaderTest {
    private static final String HEADER = "time,forge,channel,value,unit,quality\n";

    @TempDir
    private Path folder;

    private final List<String> problems = new ArrayList<>();

    @Test
    void readsRowsInSecondsOrIsoTimeAndGathersWhatIsOfOneTime() throws IOException {
        Path file = file(
                "a.csv",
                HEADER + "1772359212.25,shed,chamber,1103.2,Cel,good\n"
                        + "2026-03-01T10:00:12.250Z,shed,gas,34500,Pa,\r\n"
                        + "2026-03-01T11:00:13+01:00,shed,chamber,,Cel,open\n\n"
                        + "1772359214,shed,plug,in,,\n1772359214,shed,note,lit,text,\n");

        List<Pack> packs = packs(file);

        assertThat(packs).hasSize(3);
        assertThat(values(packs.subList(0, 1)))
                .containsExactly(
                        "2026-03-01T10:00:12.250Z shed:chamber 1103.2 Cel good",
                        "2026-03-01T10:00:12.250Z shed:gas 34500.0 Pa good");
        assertThat(values(packs.subList(1, 2))).containsExactly("2026-03-01T10:00:13Z shed:chamber NaN Cel open");
        assertThat(packs.get(2).settings()).hasSize(1);
        assertThat(packs.get(2).notes()).extracting(note -> note.text()).containsExactly("lit");
        assertThat(packs.get(0).readings()).allMatch(r -> r.receiptTime().equals(r.sourceTime()));
        assertThat(problems).isEmpty();
    }

    @Test
    void readsPacksWithAbsoluteTimesAndTheirChecksums() throws IOException {
        Path file = file("a.ndjson", """
                [{"bn":"shed:","bt":1772359212,"n":"a","t":1,"v":2},{"n":"a","v":1}]
                [{"n":"shed:a","t":1772359214,"v":3}] *0000
                [{"n":"shed:a","t":5,"v":4}]
                [{"n":"shed:a","v":4}]
                [{"n":"a","t":1772359214,"v":4}]
                """);

        assertThat(values(packs(file)))
                .containsExactly("2026-03-01T10:00:12Z shed:a 1.0  good", "2026-03-01T10:00:13Z shed:a 2.0  good");
        assertThat(problems)
                .satisfiesExactly(
                        p -> assertThat(p).startsWith(file + ": line 2: checksum"),
                        p -> assertThat(p)
                                .startsWith(file + ": line 3: record 1: field \"t\"")
                                .contains("5.0 s"),
                        p -> assertThat(p).startsWith(file + ": line 4: record 1: field \"bt\""),
                        p -> assertThat(p).startsWith(file + ": line 5: record 1: name \"a\" has no forge"));
    }

    @Test
    void namesFileLineFieldValueAndWhatIsAllowedAndGoesOn() throws IOException {
        Path file = file(
                "bad.csv",
                HEADER + "yesterday,shed,a,1,V,good\n1772359212,my shed,a,1,V,good\n1772359212,shed,a b,1,V,good\n"
                        + "1772359212,shed,a,hot,V,good\n1772359212,shed,a,,V,good\n1772359212,shed,a,1,V,fine\n"
                        + "1772359212,shed,a,1,V\n1772359212,shed,\"a,1,V,good\n1772359212,shed,a,NaN,V,good\n"
                        + "1772359212,shed,a,1,V,good\n");

        assertThat(packs(file)).hasSize(1);
        assertThat(problems).hasSize(9).allMatch(p -> p.startsWith(file + ": line ") && p.contains("allowed"));
        assertThat(problems.get(0)).contains("line 2: field \"time\" is \"yesterday\"");
        assertThat(problems.get(1)).contains("line 3: field \"forge\"").contains("my shed");
        assertThat(problems.get(3)).contains("line 5: field \"value\" is \"hot\"");
        assertThat(problems.get(5)).contains("field \"quality\" is \"fine\"").contains("short-ground");
        assertThat(problems.get(6)).contains("has 5; allowed are 6");
    }

    @Test
    void stopsAtABadLineWhenTheCallerSaysSo() throws IOException {
        Path file = file("bad.csv", HEADER + "1772359212,shed,a,1,V,good\n1772359213,shed,a,hot,V,good\n");

        assertThatThrownBy(() -> {
                    try (RecordedBurnReader reader =
                            RecordedBurnReader.open(List.of(file), RecordingProblem.Listener.STOP_AT_ONCE)) {
                        while (reader.next() != null) {
                            assertThat(reader.bytesRead()).isPositive();
                        }
                    }
                })
                .isInstanceOf(RecordedBurnException.class)
                .hasMessageContaining("bad.csv: line 3: field \"value\" is \"hot\"");
    }

    @Test
    void refusesAFileOfAnotherKind() throws IOException {
        Path file = file("letter.txt", "Dear smith,\n");

        assertThatThrownBy(() -> packs(file))
                .isInstanceOf(RecordedBurnException.class)
                .hasMessageContaining("letter.txt: line 1")
                .hasMessageContaining(HEADER.strip());
        assertThatThrownBy(() -> packs(folder.resolve("missing.csv"))).isInstanceOf(IOException.class);
        assertThatThrownBy(() -> packs()).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void readsGzipByItsFirstBytesAndAByteOrderMark() throws IOException {
        Path plain = file("a.csv", "\uFEFF" + HEADER + "1772359212,shed,a,1,V,good\n");
        Path gzip = folder.resolve("named-anything");
        Files.write(gzip, gzip(Files.readAllBytes(plain)));

        assertThat(packs(gzip)).isEqualTo(packs(plain)).hasSize(1);
        assertThat(problems).isEmpty();
    }

    @Test
    void givesWhatItCanOfAGzipFileThatWasCutOff() throws IOException {
        StringBuilder rows = new StringBuilder(HEADER);
        for (int i = 0; i < 20_000; i++) {
            rows.append(1_772_359_212 + i)
                    .append(",shed,a,")
                    .append(i * 31 % 977)
                    .append(",V,good\n");
        }
        byte[] whole = gzip(rows.toString().getBytes(StandardCharsets.UTF_8));
        Path file = folder.resolve("cut.csv.gz");
        Files.write(file, Arrays.copyOf(whole, whole.length / 2));

        assertThat(packs(file)).hasSizeBetween(5_000, 15_000);
        assertThat(problems).hasSize(1).allMatch(p -> p.contains("ends early"));
    }

    @Test
    void mergesFilesInTimeOrder() throws IOException {
        Path shed = file("shed.csv", HEADER + rows("shed", 0, 2, 4, 6));
        Path barn = file("barn.csv", HEADER + rows("barn", 1, 2, 3, 9));

        assertThat(values(packs(shed, barn)))
                .extracting(text -> text.substring(17, 30))
                .containsExactly(
                        "12Z shed:a 0.",
                        "13Z barn:a 1.",
                        "14Z shed:a 2.",
                        "14Z barn:a 2.",
                        "15Z barn:a 3.",
                        "16Z shed:a 4.",
                        "18Z shed:a 6.",
                        "21Z barn:a 9.");
    }

    @Test
    void putsLinesThatCrossEachOtherInOrder() throws IOException {
        Path file = file("crossed.csv", HEADER + rows("shed", 3, 1, 2, 0, 5, 4));

        assertThat(packs(file))
                .extracting(pack -> pack.readings().get(0).value())
                .containsExactly(0.0, 1.0, 2.0, 3.0, 4.0, 5.0);
        assertThat(problems).isEmpty();
    }

    @Test
    void tellsOfWhatComesLaterThanItsWindowAndStillDeliversIt() throws IOException {
        StringBuilder rows = new StringBuilder(HEADER);
        for (int i = 1; i <= RecordedFile.WINDOW + 10; i++) {
            rows.append(rows("shed", i));
        }
        rows.append(rows("shed", 0));
        Path file = file("late.csv", rows.toString());

        assertThat(packs(file)).hasSize(RecordedFile.WINDOW + 11);
        assertThat(problems)
                .hasSize(1)
                .allMatch(p -> p.contains("line " + (RecordedFile.WINDOW + 12)) && p.contains("field \"time\""));
    }

    @Test
    void passesOverALineThatIsTooLongWithoutHoldingIt() throws IOException {
        Path file = file(
                "long.csv",
                HEADER + "1772359212,shed,a,1,V,good\n" + "x".repeat(1_000_000) + "\n1772359213,shed,a,2,V,good\n");

        assertThat(packs(file)).hasSize(2);
        assertThat(problems).hasSize(1).allMatch(p -> p.contains("line 3: the line is too long"));
    }

    @Test
    void mergesAFaultWithTheValueOfTheSameTimeAcrossLines() throws IOException {
        Path file = file("a.ndjson", """
                [{"n":"shed:a","t":1772359214,"v":3}]
                [{"n":"shed:a-fault","t":1772359214,"vs":"range"}]
                """);

        List<Pack> packs = packs(file);
        assertThat(packs).hasSize(1);
        assertThat(packs.get(0).readings()).extracting(Reading::quality).containsExactly(Quality.RANGE);
    }

    @Test
    void takesASampleBurnWholeAndCountsItsBytes() throws IOException {
        Path file = Path.of(System.getProperty("bankfire.fixtures"), "burns", SampleBurn.FLAME_OUT);
        try (RecordedBurnReader reader = open(file)) {
            int readings = 0;
            for (Pack pack = reader.next(); pack != null; pack = reader.next()) {
                readings += pack.readings().size();
            }
            assertThat(readings).isEqualTo(451 * 3);
            assertThat(reader.bytesRead()).isEqualTo(reader.bytesTotal()).isEqualTo(Files.size(file));
        }
    }

    private RecordedBurnReader open(Path... files) throws IOException {
        return RecordedBurnReader.open(List.of(files), problem -> {
            problems.add(problem.toString());
            return Answer.CONTINUE;
        });
    }

    private List<Pack> packs(Path... files) throws IOException {
        List<Pack> packs = new ArrayList<>();
        try (RecordedBurnReader reader = open(files)) {
            for (Pack pack = reader.next(); pack != null; pack = reader.next()) {
                packs.add(pack);
            }
        }
        return packs;
    }

    private static List<String> values(List<Pack> packs) {
        List<String> values = new ArrayList<>();
        for (Pack pack : packs) {
            for (Reading r : pack.readings()) {
                values.add(r.sourceTime() + " " + r.channel() + " " + r.value() + " "
                        + r.unit().symbol() + " " + r.quality().code());
            }
        }
        return values;
    }

    private static String rows(String forge, int... seconds) {
        StringBuilder rows = new StringBuilder();
        for (int second : seconds) {
            rows.append(1_772_359_212L + second).append(',').append(forge).append(",a,");
            rows.append(second).append(",V,good\n");
        }
        return rows.toString();
    }

    private Path file(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    private static byte[] gzip(byte[] bytes) throws IOException {
        ByteArrayOutputStream compressed = new ByteArrayOutputStream();
        try (OutputStream out = new GZIPOutputStream(compressed)) {
            out.write(bytes);
        }
        return compressed.toByteArray();
    }
}
