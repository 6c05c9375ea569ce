package org.bankfire.daemon.acquire.virtual;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** A simulation that shared the analysis's equations would prove nothing about them. */
@AnalyzeClasses(packages = "org.bankfire.daemon.acquire.virtual", importOptions = ImportOption.DoNotIncludeTests.class)
class StandsApartTest {
    @ArchTest
    static final ArchRule SHARES_NOTHING_WITH_THE_ANALYSIS_BUT_READINGS = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(
                    "org.bankfire.analysis.alarm..",
                    "org.bankfire.analysis.burn..",
                    "org.bankfire.analysis.combustion..",
                    "org.bankfire.analysis.correction..",
                    "org.bankfire.analysis.fit..",
                    "org.bankfire.analysis.flame..",
                    "org.bankfire.analysis.forge..",
                    "org.bankfire.analysis.gas..",
                    "org.bankfire.analysis.heat..",
                    "org.bankfire.analysis.lining..",
                    "org.bankfire.analysis.monitor..",
                    "org.bankfire.analysis.prediction..",
                    "org.bankfire.analysis.steady..",
                    "org.bankfire.analysis.thermocouple..");
}
