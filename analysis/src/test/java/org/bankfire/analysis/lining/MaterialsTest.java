package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MaterialsTest {
    private static final double[] VDI_TEMPERATURES_C = {400, 600, 800, 1000, 1200};
    private static final int VDI_CP_AT_600_C = 8;

    @ParameterizedTest
    @CsvSource({
        "insulating-firebrick-23, L1260",
        "insulating-firebrick-26, L1400",
        "insulating-firebrick-28, L1540",
        "dense-firebrick, Fireclay"
    })
    void bricksHaveTheFiguresOfTheVdiHeatAtlas(String name, String vdiName) throws IOException {
        List<String> row = row("vdi_refractories.csv", "\"" + vdiName + "\"");
        Material material = Materials.find(name).orElseThrow();
        assertThat(material.densityKgPerM3()).isEqualTo(Double.parseDouble(row.get(1)));
        assertThat(material.heatCapacityJPerKgK()).isEqualTo(Double.parseDouble(row.get(VDI_CP_AT_600_C)));
        assertThat(material.conductivity()).hasSize(VDI_TEMPERATURES_C.length);
        for (int i = 0; i < VDI_TEMPERATURES_C.length; i++) {
            ConductivityPoint point = material.conductivity().get(i);
            assertThat(point.temperatureK()).isCloseTo(VDI_TEMPERATURES_C[i] + 273.15, within(1e-9));
            assertThat(point.conductivityWPerMK()).isEqualTo(Double.parseDouble(row.get(2 + i)));
        }
    }

    @ParameterizedTest
    @CsvSource({"20", "23", "26", "28"})
    void insulatingBricksAreNoDenserThanTheirAstmGroupAllows(String group) throws IOException {
        double greatest = Double.parseDouble(row("ifb_classes.csv", group).get(4));
        assertThat(Materials.find("insulating-firebrick-" + group).orElseThrow().densityKgPerM3())
                .isLessThan(greatest);
    }

    @ParameterizedTest
    @CsvSource({"20, 0", "23, 30", "26, 0", "28, 0"})
    void limitsOfInsulatingBricksAreTheirAstmTestTemperatureSaveGroup23ClassifiedAt1260(String group, double aboveK)
            throws IOException {
        double testC = Double.parseDouble(row("ifb_classes.csv", group).get(2));
        assertThat(Materials.find("insulating-firebrick-" + group).orElseThrow().serviceLimitK())
                .isCloseTo(testC + aboveK + 273.15, within(1e-9));
    }

    @ParameterizedTest
    @CsvSource({"400", "500", "600"})
    void aeratedConcreteHasTheFiguresOfEn1745(String density) throws IOException {
        List<String> row = row("aac_en1745.csv", density);
        Material material = Materials.find("aerated-concrete-" + density).orElseThrow();
        assertThat(material.densityKgPerM3()).isEqualTo(Double.parseDouble(row.get(0)));
        assertThat(material.conductivity().get(0).conductivityWPerMK()).isEqualTo(Double.parseDouble(row.get(1)));
        assertThat(material.heatCapacityJPerKgK()).isEqualTo(Double.parseDouble(row.get(3)));
    }

    @ParameterizedTest
    @CsvSource({
        "ceramic-fibre-blanket-1260, ceramic/AES fibre blanket, 128",
        "ceramic-fibre-blanket-1260-light, ceramic/AES fibre blanket, 96",
        "dense-castable, dense 45-60 % alumina castable, 2150",
        "insulating-castable, insulating castable 1200-1300 C class, 1300"
    })
    void fibresAndCastablesHaveTheGenericFigures(String name, String generic, String density) throws IOException {
        Material material = Materials.find(name).orElseThrow();
        List<ConductivityPoint> published = new ArrayList<>();
        for (List<String> row : rows("ceramic_fibre_castable_generic.csv")) {
            if (row.get(0).equals(generic) && row.get(1).equals(density)) {
                published.add(
                        new ConductivityPoint(Double.parseDouble(row.get(2)) + 273.15, Double.parseDouble(row.get(3))));
            }
        }
        assertThat(material.densityKgPerM3()).isEqualTo(Double.parseDouble(density));
        assertThat(material.conductivity()).isEqualTo(published);
    }

    @Test
    void everyMaterialIsFoundByItsNameAndTellsItsSourceAndLimit() {
        assertThat(Materials.names()).hasSizeGreaterThan(10).doesNotHaveDuplicates();
        for (String name : Materials.names()) {
            Material material = Materials.find(name).orElseThrow();
            assertThat(material.name()).isEqualTo(name);
            assertThat(material.source()).contains("limit:");
            assertThat(material.serviceLimitK()).isFinite();
        }
    }

    @Test
    void aNameThatIsNotInTheLibraryIsNotFound() {
        assertThat(Materials.find("insulating-firebrick-22")).isEmpty();
        assertThat(Materials.find("Insulating-Firebrick-23")).isEmpty();
    }

    private static List<String> row(String file, String first) throws IOException {
        return rows(file).stream()
                .filter(row -> row.get(0).equals(first))
                .findFirst()
                .orElseThrow();
    }

    private static List<List<String>> rows(String file) throws IOException {
        Path fixtures = Path.of(Objects.requireNonNull(System.getProperty("bankfire.fixtures")));
        List<List<String>> rows = new ArrayList<>();
        for (String line : Files.readAllLines(fixtures.resolve("materials").resolve(file))) {
            if (!line.startsWith("#")) {
                rows.add(List.of(line.split(",", -1)));
            }
        }
        return rows;
    }
}
