package org.bankfire.daemon.testbed;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class ProgramsTest {
    @Test
    void aMissingProgramFailsTheTestAndNamesItsPackage() {
        assertThatThrownBy(() -> Programs.find("no-such-program", "its-package"))
                .isInstanceOf(AssertionError.class)
                .hasMessage("the program no-such-program is missing; this test needs it: apt-get install its-package");
    }
}
