package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.bankfire.analysis.lining.Materials;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearestNameTest {
    /** The first two rows are the usual textbook examples of the distance. */
    @ParameterizedTest
    @CsvSource({"kitten, sitting, 3", "saturday, sunday, 3", "'', jet, 3", "jet, jet, 0", "jett, jet, 1", "tej, jet, 2"
    })
    void theDistanceIsTheFewestChangesOfLetters(String from, String to, int changes) {
        assertThat(NearestName.distance(from, to)).isEqualTo(changes);
        assertThat(NearestName.distance(to, from)).isEqualTo(changes);
    }

    @Test
    void theNearestKnownWordIsFound() {
        List<String> keys = List.of("jet", "throat", "fuel", "discharge", "chamber-limit");
        assertThat(NearestName.among("jett", keys)).isEqualTo("jet");
        assertThat(NearestName.among("Throat", keys)).isEqualTo("throat");
        assertThat(NearestName.among("chamber_limit", keys)).isEqualTo("chamber-limit");
        assertThat(NearestName.among("dischrage", keys)).isEqualTo("discharge");
        assertThat(NearestName.among("insulating-firebrik-23", Materials.names()))
                .isEqualTo("insulating-firebrick-23");
    }

    @Test
    void aWordThatIsLikeNoneHasNoNearest() {
        assertThat(NearestName.among("colour", List.of("jet", "throat"))).isEmpty();
        assertThat(NearestName.among("x".repeat(5000), List.of("jet", "throat")))
                .isEmpty();
    }
}
