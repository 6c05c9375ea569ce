package org.bankfire.analysis;

import static com.tngtech.archunit.core.domain.JavaCall.Predicates.target;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.name;
import static com.tngtech.archunit.core.domain.properties.HasOwner.Predicates.With.owner;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaPackage;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import java.io.File;
import java.time.Clock;
import java.time.Instant;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.NullMarked;
import org.junit.jupiter.api.Test;

/** The analysis computes from its arguments alone, so that live, replay and what-if run the same code. */
class ArchitectureTest {
    private static final JavaClasses ANALYSIS = new ClassFileImporter()
            .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
            .importPackages("org.bankfire.analysis");

    private static final ArchRule NO_INPUT_OR_OUTPUT = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.io..", "java.nio..", "java.net..", "java.sql..", "javax..");

    private static final ArchRule NO_THREADS = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAPackage("java.util.concurrent..")
            .orShould()
            .dependOnClassesThat()
            .belongToAnyOf(Thread.class, ThreadLocal.class, java.util.Timer.class)
            .orShould()
            .callMethodWhere(target(owner(name("java.lang.Object"))).and(target(name("wait"))));

    private static final ArchRule NO_CLOCK = noClasses()
            .should()
            .dependOnClassesThat()
            .belongToAnyOf(Clock.class)
            .orShould()
            .callMethodWhere(target(owner(resideInAPackage("java.time.."))).and(target(name("now"))))
            .orShould()
            .callMethod(System.class, "currentTimeMillis")
            .orShould()
            .callMethod(System.class, "nanoTime")
            .orShould()
            .callConstructor(java.util.Date.class);

    private static final ArchRule NO_LOGGING = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.slf4j..", "java.util.logging..", "ch.qos.logback..")
            .orShould()
            .dependOnClassesThat()
            .belongToAnyOf(System.Logger.class)
            .orShould()
            .accessField(System.class, "out")
            .orShould()
            .accessField(System.class, "err");

    private static final ArchRule ONE_DIRECTION = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.bankfire.dashboard..", "org.bankfire.daemon..");

    @Test
    void theAnalysisReadsAndWritesNothing() {
        NO_INPUT_OR_OUTPUT.check(ANALYSIS);
    }

    @Test
    void theAnalysisKnowsNoThreads() {
        NO_THREADS.check(ANALYSIS);
    }

    @Test
    void theAnalysisKnowsNoClock() {
        NO_CLOCK.check(ANALYSIS);
    }

    @Test
    void theAnalysisLogsNothing() {
        NO_LOGGING.check(ANALYSIS);
    }

    @Test
    void theAnalysisKnowsNeitherTheDashboardNorTheDaemon() {
        ONE_DIRECTION.check(ANALYSIS);
    }

    @Test
    void packagesDependOnEachOtherWithoutCycles() {
        slices().matching("org.bankfire.analysis.(*)..")
                .should()
                .beFreeOfCycles()
                .check(ANALYSIS);
    }

    @Test
    void everyPackageIsNullMarked() {
        JavaPackage root = ANALYSIS.getPackage("org.bankfire.analysis");
        assertThat(root.getSubpackagesInTree())
                .isNotEmpty()
                .allSatisfy(each -> assertThat(each.isAnnotatedWith(NullMarked.class))
                        .as(each.getName())
                        .isTrue());
    }

    @Test
    void theRulesCatchWhatTheyForbid() {
        JavaClasses offender = new ClassFileImporter().importClasses(Offender.class);
        for (ArchRule rule : new ArchRule[] {NO_INPUT_OR_OUTPUT, NO_THREADS, NO_CLOCK, NO_LOGGING}) {
            assertThat(rule.evaluate(offender).hasViolation())
                    .as(rule.getDescription())
                    .isTrue();
        }
    }

    /** Does everything that the analysis must not. */
    static final class Offender {
        private final ReentrantLock lock = new ReentrantLock();

        boolean offend(File file) {
            System.err.println(Instant.now());
            return lock.isLocked() && file.exists();
        }
    }
}
