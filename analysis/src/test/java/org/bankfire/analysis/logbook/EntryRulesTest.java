package org.bankfire.analysis.logbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EntryRulesTest {
    /** Inch and pound by the international yard and pound agreement of 1959: 25.4 mm, 0.45359237 kg. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "setting-jet|0.8 mm||0.8|mm",
                "setting-jet|0.80|mm|0.80|mm",
                "setting-jet|0.8||0.8|mm",
                "setting-jet|0.035in||0.889|mm",
                "setting-jet-position|-1.2 cm||-12|mm",
                "setting-choke|50 %||50|%",
                "setting-choke|half shut||half shut|''",
                "setting-choke|3 turns||3|turns",
                "setting-obstruction|a washer of 8 mm||a washer of 8 mm|''",
                "setting-lining|new||new|''",
                "setting-lowest-stable|0.2 bar||0.2|bar",
                "setting-highest-stable|30|psi|30|psi",
                "setting-possible-jet|0.7 mm,0.8 , 0.9, 0.8||0.7, 0.8, 0.9|''",
                "setting-possible-choke|0 %, 50 %, shut||0 %, 50 %, shut|''",
                "setting-possible-plug|in, out||in, out|''",
                "setting-hood|up||up|''",
                "plug|Out||out|''",
                "stock|In: 16 mm bar||in: 16 mm bar|''",
                "stock|out||out|''",
                "cylinder|11.2 kg||11.2|kg",
                "cylinder|25 lb||11.33980925|kg",
                "cylinder|11200|g|11.2|kg",
                "note|0.9 mm is too wide||0.9 mm is too wide|''"
            })
    void whatCanBeUsedIsKeptInItsUnit(String name, String value, String unit, String kept, String keptUnit)
            throws Exception {
        assertThat(EntryRules.check(name, value, unit == null ? "" : unit)).isEqualTo(new Worded(kept, keptUnit));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "setting-jet|0.05 mm||value|0.1 mm to 5 mm",
                "setting-jet|0,8||value|units: mm, cm, m, in",
                "setting-jet|0.8|kg|value|units: mm",
                "setting-jet|NaN|mm|value|0.1 mm",
                "setting-jet-position|far||value|-500 mm to 500 mm",
                "setting-choke|120 %||value|0 % to 100 %",
                "setting-choke|''||value|1 to 256",
                "setting-lowest-stable|0.2||value|with its unit",
                "setting-lowest-stable|-1 bar||value|more than 0",
                "setting-lowest-stable|20 bar||value|at most 10 bar",
                "setting-possible-jet|0.7, wide||value|a length",
                "setting-possible-possible-jet|0.7||value|a setting's name",
                "setting-wire-hours|3||name|keeps for itself",
                "setting-zero-gas|3||name|keeps for itself",
                "jet|0.8||name|note, stock",
                "correction|x||name|note, stock",
                "plug|half||value|in, out",
                "plug|in a bit||value|in, out",
                "stock|inside||value|in or out",
                "cylinder|-3 kg||value|more than 0 kg",
                "cylinder|3 stone||value|units: kg, g, lb",
                "note|''||value|1 to 4000"
            })
    void whatCannotBeUsedIsRefusedWithWhatIsAllowed(
            String name, String value, String unit, String field, String allowed) {
        assertThatThrownBy(() -> EntryRules.check(name, value, unit == null ? "" : unit))
                .isInstanceOfSatisfying(BadEntryException.class, bad -> {
                    assertThat(bad.field()).isEqualTo(field);
                    assertThat(bad.allowed()).contains(allowed);
                    assertThat(field.equals("name") ? name : value + " " + unit).contains(bad.value());
                });
    }
}
