package org.bankfire.daemon;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.util.concurrent.Executor;

/** The house of the whole product: {@code daemon → dashboard → analysis}, and no circle of packages. */
@AnalyzeClasses(packages = "org.bankfire", importOptions = ImportOption.DoNotIncludeTests.class)
final class ArchitectureTest {
    @ArchTest
    static final ArchRule ANALYSIS_KNOWS_NOBODY = noClasses()
            .that()
            .resideInAPackage("org.bankfire.analysis..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.bankfire.dashboard..", "org.bankfire.daemon..");

    @ArchTest
    static final ArchRule DASHBOARD_KNOWS_NO_LINE_BROKER_OR_DATABASE = noClasses()
            .that()
            .resideInAPackage("org.bankfire.dashboard..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(
                    "org.bankfire.daemon..",
                    "com.fazecast..",
                    "org.eclipse.paho..",
                    "java.sql..",
                    "org.sqlite..",
                    "org.influxdb..");

    @ArchTest
    static final ArchRule ONE_PACKAGE_SPEAKS_TO_THE_SERVER_DATABASE = noClasses()
            .that()
            .resideOutsideOfPackage("org.bankfire.daemon.store.influx..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.influxdb..", "okhttp3..", "retrofit2..", "com.squareup.moshi..", "org.msgpack..");

    @ArchTest
    static final ArchRule DECODERS_ARE_PURE = noClasses()
            .that()
            .resideInAPackage("org.bankfire.daemon.acquire.frame..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(
                    "java.nio.file..", "java.net..", "java.sql..", "java.util.concurrent.locks..", "org.slf4j..")
            .orShould()
            .dependOnClassesThat()
            .areAssignableTo(Executor.class)
            .orShould()
            .dependOnClassesThat()
            .areAssignableTo(Thread.class)
            .orShould()
            .callMethod(System.class, "currentTimeMillis")
            .orShould()
            .callMethod(System.class, "nanoTime")
            .orShould()
            .callMethod(java.time.Instant.class, "now");

    @ArchTest
    static final ArchRule VIRTUAL_FORGE_SHARES_NO_EQUATION = noClasses()
            .that()
            .resideInAPackage("org.bankfire.daemon.acquire.virtual..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(
                    "org.bankfire.analysis.gas..",
                    "org.bankfire.analysis.forge..",
                    "org.bankfire.analysis.thermocouple..",
                    "org.bankfire.analysis.correction..",
                    "org.bankfire.analysis.flame..",
                    "org.bankfire.analysis.monitor..");

    @ArchTest
    static final ArchRule NO_CIRCLE_OF_PACKAGES =
            slices().matching("org.bankfire.(**)").should().beFreeOfCycles();
}
