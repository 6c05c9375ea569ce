package org.bankfire.dashboard;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** Which way the arrows point inside the face. */
@AnalyzeClasses(packages = "org.bankfire.dashboard", importOptions = ImportOption.DoNotIncludeTests.class)
class DashboardArchitectureTest {
    @ArchTest
    static final ArchRule knowsNothingOfPortsBrokersOrDatabases = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.bankfire.daemon..", "java.sql..", "org.eclipse.paho..", "com.fazecast..");

    @ArchTest
    static final ArchRule whatTheDaemonImplementsIsPlainJava = classes()
            .that()
            .resideInAPackage("..dashboard.source..")
            .should()
            .onlyDependOnClassesThat()
            .resideInAnyPackage("java..", "org.jspecify..", "org.bankfire.analysis..", "..dashboard.source..");

    @ArchTest
    static final ArchRule packagesDoNotGoRoundInCircles =
            slices().matching("org.bankfire.dashboard.(*)..").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule theStreamDoesNotKnowTheApi = noClasses()
            .that()
            .resideInAPackage("..live..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("..api..");
}
