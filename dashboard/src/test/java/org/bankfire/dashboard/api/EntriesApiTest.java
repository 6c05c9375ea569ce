package org.bankfire.dashboard.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Writing into a forge's log and correcting it later, over HTTP. */
class EntriesApiTest {
    private static final String QUARRY = "/api/v1/forges/quarry";
    private static final String JET_AT = "2026-03-01T10:00:12.250Z";
    private static final String DAY = "from=2026-03-01T00:00:00Z&to=2026-03-02T00:00:00Z";

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;

    @BeforeEach
    void open() throws Exception {
        dashboard = new RunningDashboard(forge);
    }

    @AfterEach
    void close() {
        dashboard.close();
    }

    private JsonNode post(String path, String body, int status) throws Exception {
        HttpResponse<String> response = dashboard.post(QUARRY + path, body.replace('\'', '"'));
        assertThat(response.statusCode()).as(response.body()).isEqualTo(status);
        return new ObjectMapper().readTree(response.body());
    }

    private JsonNode get(String path) throws Exception {
        HttpResponse<String> response = dashboard.get(QUARRY + path);
        assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
        return new ObjectMapper().readTree(response.body());
    }

    private void jet() throws Exception {
        post("/settings", "{'name':'setting-jet','value':'0.08 cm','time':'" + JET_AT + "'}", 201);
    }

    @Test
    void aCorrectedEntryStandsWithItsHistory() throws Exception {
        jet();
        String which = "{'writtenFor':'" + JET_AT + "','name':'setting-jet',";
        post("/entries/correct", which + "'value':'0.9 mm','by':'Ida'}", 201);
        JsonNode entry = post("/entries/correct", which + "'time':'2026-03-01T09:30:00Z'}", 201)
                .get("entry");
        assertThat(entry.get("value").textValue()).isEqualTo("0.9");
        assertThat(entry.get("unit").textValue()).isEqualTo("mm");
        assertThat(entry.get("time").textValue()).isEqualTo("2026-03-01T09:30:00Z");
        assertThat(entry.get("corrected").booleanValue()).isTrue();
        assertThat(entry.at("/history/0/by").textValue()).isEqualTo("Ida");
        assertThat(entry.at("/history/0/before/value").textValue()).isEqualTo("0.8");
        assertThat(entry.at("/history/1/by").textValue()).isEqualTo("page");
        assertThat(get("/entries?" + DAY).get("entries")).containsExactly(entry);
        assertThat(get("/settings?" + DAY).at("/settings/0/value").textValue()).isEqualTo("0.9");
        assertThat(forge.settings()).extracting(Setting::value).containsExactly("0.8");
        assertThat(forge.notes()).extracting(Note::name).containsExactly(Note.CORRECTION, Note.CORRECTION);
    }

    @Test
    void whatIsWithdrawnIsNotInForceButStillListed() throws Exception {
        post("/settings", "{'name':'setting-jet','value':'0.7 mm','time':'2026-02-01T10:00:00Z'}", 201);
        jet();
        String inForce = "/settings/in-force?at=2026-03-01T12:00:00Z";
        assertThat(get(inForce).at("/settings/0/value").textValue()).isEqualTo("0.8");
        post("/entries/correct", "{'writtenFor':'" + JET_AT + "','name':'setting-jet','withdraw':true}", 201);
        assertThat(get(inForce).at("/settings/0/value").textValue()).isEqualTo("0.7");
        assertThat(get("/settings?" + DAY).get("settings")).isEmpty();
        assertThat(get("/entries?" + DAY).at("/entries/0/withdrawn").booleanValue())
                .isTrue();
    }

    @Test
    void aWeighingIsAReadingAndAnEntry() throws Exception {
        JsonNode answer = post("/weighings", "{'value':'25','unit':'lb','time':'2026-03-01T10:00:00Z'}", 201);
        assertThat(answer.get("text").textValue()).isEqualTo("11.33980925 kg");
        assertThat(forge.weighings()).singleElement().satisfies((Reading weighing) -> {
            assertThat(weighing.channel().name()).isEqualTo("cylinder");
            assertThat(weighing.value()).isEqualTo(11.33980925);
            assertThat(weighing.unit()).isEqualTo(Unit.KILOGRAM);
        });
        post("/entries/correct", "{'writtenFor':'2026-03-01T10:00:00Z','name':'cylinder','value':'26 lb'}", 201);
        assertThat(get("/entries?" + DAY).at("/entries/0/text").textValue()).isEqualTo("11.79340162 kg");
    }

    @Test
    void aSecondEntryOfOneTimeIsRefusedRatherThanLost() throws Exception {
        jet();
        JsonNode error = post("/settings", "{'name':'setting-jet','value':'0.9 mm','time':'" + JET_AT + "'}", 409);
        assertThat(error.get("error").textValue()).contains("setting-jet", "already");
        assertThat(forge.settings()).hasSize(1);
    }

    @Test
    void aCorrectionMustSayOneThingThatIsAllowed() throws Exception {
        jet();
        String which = "{'writtenFor':'" + JET_AT + "','name':'setting-jet'";
        assertThat(post("/entries/correct", which + "}", 400).get("field").textValue())
                .isEqualTo("value");
        post("/entries/correct", which + ",'value':'0.9 mm','withdraw':true}", 400);
        JsonNode wide = post("/entries/correct", which + ",'value':'9 mm'}", 400);
        assertThat(wide.get("allowed").textValue()).contains("0.1 mm to 5 mm");
        assertThat(post("/entries/correct", which + ",'time':'2999-01-01T00:00:00Z'}", 400)
                        .get("field")
                        .textValue())
                .isEqualTo("time");
        assertThat(forge.notes()).isEmpty();
    }

    @Test
    void aCorrectionOfNothingKnownIsTold() throws Exception {
        forge.add(new Note("quarry", forge.now(), Note.CORRECTION, JET_AT + " setting-jet is 0.9 mm"));
        JsonNode log = get("/entries?" + DAY);
        assertThat(log.get("entries")).isEmpty();
        assertThat(log.at("/unmatched/0/name").textValue()).isEqualTo("setting-jet");
    }
}
