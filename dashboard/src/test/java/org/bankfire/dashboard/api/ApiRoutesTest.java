package org.bankfire.dashboard.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.dashboard.testing.RunningDashboard.json;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.outlook.Doubt;
import org.bankfire.analysis.outlook.IdleAdvice.Kind;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.live.LiveHub;
import org.bankfire.dashboard.source.OutputBook.Condition;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.OutputBook.Tested;
import org.bankfire.dashboard.source.TrialBook.Asked;
import org.bankfire.dashboard.source.WhatIf;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.Schema;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.bankfire.dashboard.testing.ScriptedOutlook;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Every route of the API, over HTTP, held to its own description. */
class ApiRoutesTest {
    private static final String QUARRY = "/api/v1/forges/quarry";
    private static final String FIT = """
            {
             "forge": "quarry",
             "start": "2026-03-01T10:00:12Z",
             "end": "2026-03-01T11:00:12Z",
             "samples": 14400,
             "effectiveSamples": 27,
             "model": "forge",
             "rmsResidualK": 0.471,
             "runsZ": -12.63,
             "converged": true,
             "why": "",
             "parameters": [
              {
               "name": "heatReleaseFactor",
               "unit": "1",
               "value": 1.078,
               "standardError": 0.009856,
               "low95": 1.058,
               "high95": 1.099,
               "status": "identified",
               "expected": 1.0,
               "narrowedTo": 0.2177,
               "advice": ""
              },
              {
               "name": "mixture",
               "unit": "1",
               "value": 1.118,
               "standardError": 0.002562,
               "low95": 1.112,
               "high95": 1.123,
               "status": "identified",
               "expected": 1.117,
               "narrowedTo": 0.02293,
               "advice": ""
              }
             ],
             "lossCoefficient": {
              "atC": 1000,
              "valueWPerK": 1.7099,
              "low95": 1.6688,
              "high95": 1.7521,
              "advice": ""
             },
             "timeConstantS": null,
             "ledger": [
              {
               "fromS": 0,
               "atS": 4,
               "inputW": 7726.097,
               "flueW": 2250.154,
               "liningW": 0,
               "openingsW": 8.951,
               "stockW": 0,
               "storedW": 5466.992
              }
             ],
             "predicted": {
              "timeToTargetS": 501.4,
              "timeToTargetLow95S": 265.4,
              "timeToTargetHigh95S": null,
              "steadyC": 1258.5,
              "steadyLow95C": 1140.4,
              "steadyHigh95C": 1350.2
             },
             "measured": {
              "timeToTargetS": 546,
              "steadyC": 1255.2
             },
             "steadyGasPa": 60003,
             "milestones": [
              {
               "chamberC": 100,
               "measuredS": 2.5,
               "predictedS": 2.2
              }
             ],
             "explanations": [
              {
               "parameter": "heatReleaseFactor",
               "steadyK": 18.7,
               "timeToTargetS": -90.9,
               "beyondDoubt": true
              }
             ],
             "verdict": "The forge would settle 3 K lower than described, within what the description leaves open; most of it (+19 K) by heatReleaseFactor.",
             "curve": [
              {
               "tS": 0.5,
               "measuredC": 39.76,
               "fittedC": 36.27,
               "predictedC": 39.76,
               "low95C": 31.13,
               "high95C": 54.23
              }
             ],
             "remarks": [
              "The wall takes heat with the square root of time at first: a loss read from the first minutes of a heat-up would be several times too large. The loss coefficient stated here is that of the soaked lining."
             ]
            }
            """;

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;

    @BeforeEach
    void start() throws IOException {
        dashboard = new RunningDashboard(forge);
    }

    @AfterEach
    void stop() {
        dashboard.close();
    }

    private void fill() {
        forge.offerDemo("flame-out", "stock-in");
        forge.outputs(
                new OutputState("broker", "mqtt", Condition.IDLE, "connected", 0, 0, 0, 0, null),
                new OutputState("porch", "mail", Condition.FAILING, "connection refused", 3, 1, 2, 4, forge.now()));
        forge.fitted("quarry-1", FIT);
        forge.ahead(ScriptedOutlook.of(Kind.DOWN, Doubt.PLUG_MOVED), ScriptedOutlook.score());
        forge.losses(
                loss(1, 1.8), loss(2, 1.7), loss(3, 1.75), loss(4, 1.7), loss(5, 1.72), loss(6, 2.4), loss(7, 2.5));
        forge.burning(ScriptedForge.QUARRY, 1_071.4, forge.flameOut());
        forge.add(new Note(ScriptedForge.QUARRY, forge.now(), Note.REMARK, "the \"roar\" is softer"));
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now(), "setting-jet", "0.9", "mm"));
        forge.journal(new AlarmTransition(
                ScriptedForge.QUARRY,
                forge.now(),
                AlarmId.CHAMBER_HIGH,
                AlarmState.NORMAL,
                Priority.HIGH,
                Double.NaN,
                "below 1228 °C"));
    }

    private static BurnLoss loss(int number, double wattsPerK) {
        return new BurnLoss(
                "quarry-" + number,
                WallTime.ofEpochSeconds(86_400.0 * number),
                1_000,
                new Band(wattsPerK, wattsPerK * 0.95, wattsPerK * 1.05));
    }

    private JsonNode document() throws Exception {
        return json(dashboard.get("/api/v1/openapi.json"));
    }

    @Test
    void theDocumentAndTheRoutesNameTheSameThings() throws Exception {
        List<String> routes = new ArrayList<>();
        for (ApiRoutes.Route route :
                ApiRoutes.of(forge.sources(), new LiveHub(forge, snapshot -> new byte[0], snapshot -> new byte[0]))) {
            routes.add(route.method().name() + " " + route.path());
        }
        List<String> documented = new ArrayList<>();
        JsonNode paths = document().get("paths");
        paths.fieldNames()
                .forEachRemaining(path -> paths.get(path)
                        .fieldNames()
                        .forEachRemaining(method -> documented.add(method.toUpperCase(Locale.ROOT) + " " + path)));
        assertThat(routes).containsExactlyInAnyOrderElementsOf(documented);
    }

    @Test
    void everyAnswerIsAsItsSchemaSays() throws Exception {
        fill();
        Map<String, HttpResponse<String>> answers = new TreeMap<>();
        String forgePath = "/api/v1/forges/{forge}";
        for (String path : List.of(
                "/api/v1/forges",
                "/api/v1/fleet",
                "/api/v1/demo/actions",
                "/api/v1/outputs",
                "/health",
                "/health/live",
                "/api/v1/store",
                forgePath + "/now",
                forgePath + "/channels",
                forgePath + "/notes",
                forgePath + "/settings",
                forgePath + "/settings/in-force",
                forgePath + "/entries",
                forgePath + "/alarms",
                forgePath + "/burns",
                forgePath + "/fit",
                forgePath + "/lining",
                forgePath + "/outlook",
                forgePath + "/trials",
                forgePath + "/what-if",
                "/api/v1/burns/{burn}/fit")) {
            answers.put(
                    "get " + path,
                    dashboard.get(path.replace("{forge}", "quarry").replace("{burn}", "quarry-1")));
        }
        answers.put("get " + forgePath + "/series", dashboard.get(QUARRY + "/series?channel=gas&points=20"));
        answers.put("post " + forgePath + "/notes", dashboard.post(QUARRY + "/notes", "{\"text\":\"x\"}"));
        answers.put(
                "post " + forgePath + "/settings",
                dashboard.post(QUARRY + "/settings", "{\"name\":\"plug\",\"value\":\"out\"}"));
        answers.put(
                "post " + forgePath + "/what-if",
                dashboard.post(QUARRY + "/what-if", "{\"changes\":{\"burner.jet\":\"0.9 mm\"}}"));
        answers.put(
                "post " + forgePath + "/weighings",
                dashboard.post(QUARRY + "/weighings", "{\"value\":\"11.2 kg\",\"time\":\"1772359212.25\"}"));
        answers.put(
                "post " + forgePath + "/entries/correct",
                dashboard.post(
                        QUARRY + "/entries/correct",
                        "{\"writtenFor\":\"1772359212.25\",\"name\":\"cylinder\",\"value\":\"10.2 kg\"}"));
        answers.put(
                "post " + forgePath + "/alarms/{alarm}/acknowledge",
                dashboard.post(QUARRY + "/alarms/flame-out/acknowledge", ""));
        answers.put(
                "post " + forgePath + "/alarms/{alarm}/shelve",
                dashboard.post(QUARRY + "/alarms/chamber-high/shelve", "{\"minutes\":30}"));
        answers.put(
                "post " + forgePath + "/alarms/{alarm}/unshelve",
                dashboard.post(QUARRY + "/alarms/chamber-high/unshelve", ""));
        answers.put(
                "post " + forgePath + "/alarms/{alarm}/service",
                dashboard.post(QUARRY + "/alarms/shell-high/service", "{\"out\":true}"));
        answers.put(
                "post " + forgePath + "/channels/{channel}/zero", dashboard.post(QUARRY + "/channels/gas/zero", ""));
        answers.put("post /api/v1/demo/actions", dashboard.post("/api/v1/demo/actions", "{\"action\":\"stock-in\"}"));
        answers.put("post /api/v1/outputs/{name}/test", dashboard.post("/api/v1/outputs/porch/test", ""));
        JsonNode document = document();
        List<String> faults = new ArrayList<>();
        for (Map.Entry<String, HttpResponse<String>> answer : answers.entrySet()) {
            int space = answer.getKey().indexOf(' ');
            String method = answer.getKey().substring(0, space);
            String path = answer.getKey().substring(space + 1);
            JsonNode schema = document.at("/paths/" + path.replace("/", "~1") + "/" + method + "/responses/"
                    + answer.getValue().statusCode() + "/content/application~1json/schema");
            assertThat(schema.isMissingNode())
                    .as(answer.getKey() + " answered " + answer.getValue().statusCode())
                    .isFalse();
            for (String fault : new Schema(document).faults(schema, json(answer.getValue()))) {
                faults.add(answer.getKey() + " " + fault);
            }
        }
        assertThat(faults).isEmpty();
        // All routes but the stream, the document, the metrics, the rows and two reports of the trials, and a burn's
        // two reports and its export: they are no JSON of a schema.
        assertThat(answers).hasSize(document.get("paths").findParents("summary").size() - 9);
    }

    @Test
    void aQuestionOfWhatIfIsHandedOnAndWhatIsRefusedIsNamed() throws Exception {
        ScriptedForge forge = dashboard.forge();
        dashboard.post(QUARRY + "/what-if", "{\"page\":\"p\",\"changes\":{\"burner.jet\":\"0.9 mm\"}}");
        assertThat(forge.whatIf().asked()).containsExactly(new WhatIf.Asked("p", Map.of("burner.jet", "0.9 mm")));
        forge.whatIf().fail(new WhatIf.RefusedException("no burner.jett", "burner.jett", "1", "known keys", "jet"));
        HttpResponse<String> refused = dashboard.post(QUARRY + "/what-if", "{\"changes\":{\"burner.jett\":\"1\"}}");
        assertThat(refused.statusCode()).isEqualTo(400);
        assertThat(json(refused).get("field").asText()).isEqualTo("burner.jett");
        assertThat(json(refused).get("value").asText()).isEqualTo("1");
        assertThat(json(refused).get("allowed").asText()).isEqualTo("known keys");
        assertThat(json(refused).get("nearest").asText()).isEqualTo("jet");
        forge.whatIf().fail(new WhatIf.BusyException("others are being answered", false));
        HttpResponse<String> busy = dashboard.post(QUARRY + "/what-if", "{}");
        assertThat(busy.statusCode()).isEqualTo(503);
        assertThat(busy.headers().firstValue("Retry-After")).isPresent();
        forge.whatIf().fail(new WhatIf.BusyException("a newer question", true));
        assertThat(dashboard.post(QUARRY + "/what-if", "{}").statusCode()).isEqualTo(409);
        assertThat(dashboard
                        .post(QUARRY + "/what-if", "{\"changes\":{\"target\":1150}}")
                        .body())
                .contains("changes.target");
    }

    @Test
    void trialsAreAskedForByBurnsOrBySpanAndComeAsRowsToo() throws Exception {
        ScriptedForge forge = dashboard.forge();
        dashboard.get(QUARRY + "/trials?burns=quarry-1,%20quarry-2");
        assertThat(forge.askedTrials().get(0).burns()).containsExactly("quarry-1", "quarry-2");
        HttpResponse<String> rows = dashboard.get(QUARRY + "/trials.csv?from=10&to=20");
        assertThat(forge.askedTrials().get(1))
                .isEqualTo(new Asked(List.of(), WallTime.ofEpochSeconds(10), WallTime.ofEpochSeconds(20)));
        assertThat(rows.headers().firstValue("Content-Type")).hasValue("text/csv; charset=utf-8");
        assertThat(rows.headers().firstValue("Content-Disposition"))
                .hasValue("attachment; filename=\"trials-quarry.csv\"");
        assertThat(rows.body()).startsWith("trial,");
        HttpResponse<String> stranger = dashboard.get(QUARRY + "/trials?burns=loft-1");
        assertThat(stranger.statusCode()).isEqualTo(400);
        assertThat(json(stranger).get("error").textValue()).contains("loft-1");
    }

    @Test
    void aReportIsMadeForItsReaderAndItsPageMayRunNoScript() throws Exception {
        fill();
        HttpResponse<String> page = dashboard.get(
                "/api/v1/burns/quarry-1/report?temperature=F&pressure=inH2O&zone=America%2FNew_York&paper=letter");
        assertThat(page.statusCode()).isEqualTo(200);
        assertThat(page.headers().firstValue("Content-Type")).hasValue("text/html;charset=utf-8");
        assertThat(page.body())
                .isEqualTo(
                        "HTML of quarry-1 for Reader[temperature=F, pressure=INH2O, zone=America/New_York, paper=LETTER]");
        assertThat(page.headers().allValues("Content-Security-Policy"))
                .singleElement()
                .asString()
                .contains("default-src 'none'")
                .doesNotContain("script");
        HttpResponse<String> pdf = dashboard.get("/api/v1/burns/quarry-1/report.pdf");
        assertThat(pdf.headers().firstValue("Content-Type")).hasValue("application/pdf");
        assertThat(pdf.headers().firstValue("Content-Disposition")).hasValue("inline; filename=\"quarry-1.pdf\"");
        assertThat(pdf.body()).isEqualTo("PDF of quarry-1 for Reader[temperature=C, pressure=BAR, zone=Z, paper=A4]");
    }

    @Test
    void trialsAreReportedForTheirReader() throws Exception {
        HttpResponse<String> page =
                dashboard.get(QUARRY + "/trials/report?burns=quarry-1&to=20&temperature=F&paper=letter");
        assertThat(page.headers().firstValue("Content-Type")).hasValue("text/html;charset=utf-8");
        assertThat(page.headers().firstValue("Content-Security-Policy")).isPresent();
        assertThat(page.body())
                .isEqualTo("HTML of quarry for "
                        + new Asked(List.of("quarry-1"), WallTime.ofEpochSeconds(0), WallTime.ofEpochSeconds(20))
                        + " and Reader[temperature=F, pressure=BAR, zone=Z, paper=LETTER]");
        HttpResponse<String> pdf = dashboard.get(QUARRY + "/trials/report.pdf");
        assertThat(pdf.headers().firstValue("Content-Type")).hasValue("application/pdf");
        assertThat(pdf.headers().firstValue("Content-Disposition")).hasValue("inline; filename=\"trials-quarry.pdf\"");
        assertThat(pdf.body()).startsWith("PDF of quarry for Asked[burns=[]");
    }

    @Test
    void aBurnIsTakenAwayAsAFile() throws Exception {
        fill();
        HttpResponse<String> csv = dashboard.get("/api/v1/burns/quarry-1/export");
        assertThat(csv.body()).isEqualTo("CSV of quarry-1");
        assertThat(csv.headers().firstValue("Content-Type")).hasValue("text/csv; charset=utf-8");
        assertThat(csv.headers().firstValue("Content-Disposition")).hasValue("attachment; filename=\"quarry-1.csv\"");
        HttpResponse<String> senml = dashboard.get("/api/v1/burns/quarry-1/export?format=senml");
        assertThat(senml.body()).isEqualTo("SENML of quarry-1");
        assertThat(senml.headers().firstValue("Content-Disposition"))
                .hasValue("attachment; filename=\"quarry-1.ndjson\"");
    }

    @Test
    void theSlowerConditionsAreToldAndWhatIsNotKnownIsNull() throws Exception {
        ScriptedForge forge = dashboard.forge();
        forge.publish(ScriptedForge.withConditions(
                forge.burning(ScriptedForge.QUARRY, 1_102), ScriptedForge.someConditions()));
        JsonNode now = json(dashboard.get(QUARRY + "/now"));
        JsonNode document = json(dashboard.get("/api/v1/openapi.json"));
        assertThat(new Schema(document).faults(document.at("/components/schemas/Snapshot"), now))
                .isEmpty();
        assertThat(now.at("/conditions/gasLeftMinutes").doubleValue()).isEqualTo(25.3);
        assertThat(now.at("/conditions/gasLeftLowMinutes").doubleValue()).isEqualTo(18.2);
        assertThat(now.at("/conditions/gasLeftHighMinutes").isNull()).isTrue();
        assertThat(now.at("/conditions/predictedShellC").doubleValue()).isEqualTo(182.3);
        assertThat(now.at("/conditions/predictedShellStandardUncertaintyK").doubleValue())
                .isEqualTo(15.2);
        assertThat(now.at("/conditions/wireHours").doubleValue()).isEqualTo(12.5);
        assertThat(now.at("/conditions/firstFireStep").intValue()).isEqualTo(2);
        forge.burning(ScriptedForge.QUARRY, 1_102);
        JsonNode unknown = json(dashboard.get(QUARRY + "/now")).get("conditions");
        assertThat(unknown.get("gasLeftMinutes").isNull()).isTrue();
        assertThat(unknown.get("firstFireStep").intValue()).isZero();
    }

    @Test
    void aForgeWithoutAReadingIsAsTheSchemaSays() throws Exception {
        JsonNode document = document();
        JsonNode now = json(dashboard.get(QUARRY + "/now"));
        assertThat(new Schema(document).faults(document.at("/components/schemas/Snapshot"), now))
                .isEmpty();
        assertThat(now.get("chamber").isNull()).isTrue();
        assertThat(now.get("heatInputW")).isNull();
        assertThat(now.at("/ledger/inputW").isNull()).isTrue();
    }

    @Test
    void theAlarmsOfTheDocumentAreThoseOfTheInstrument() throws Exception {
        TreeSet<String> documented = new TreeSet<>();
        document().at("/components/schemas/Alarm/properties/alarm/enum").forEach(id -> documented.add(id.textValue()));
        TreeSet<String> known = new TreeSet<>();
        for (AlarmId id : AlarmId.values()) {
            known.add(id.code());
        }
        assertThat(documented).isEqualTo(known);
    }

    @Test
    void aSnapshotIsToldInTheReadersUnits() throws Exception {
        fill();
        JsonNode now = json(dashboard.get(QUARRY + "/now"));
        assertThat(now.at("/chamber/value").doubleValue()).isEqualTo(1_071.4);
        assertThat(now.at("/chamber/standardUncertainty").doubleValue()).isEqualTo(2.9);
        // 0.82 bar, 0.008 bar.
        assertThat(now.at("/gas/value").doubleValue()).isEqualTo(82_000);
        assertThat(now.at("/gas/unit").textValue()).isEqualTo("Pa");
        assertThat(now.at("/gas/standardUncertainty").doubleValue()).isEqualTo(800);
        assertThat(now.get("gasFlowKgPerHour").doubleValue()).isEqualTo(0.62);
        assertThat(now.at("/ledger/openingsW").doubleValue()
                        + now.at("/ledger/restW").doubleValue())
                .isCloseTo(7_980, org.assertj.core.data.Offset.offset(0.2));
        // 1.037 kg at 2.90 a kg.
        assertThat(now.at("/burn/gasCost").doubleValue()).isEqualTo(3.0073);
        assertThat(now.at("/alarms/0/alarm").textValue()).isEqualTo("flame-out");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "/api/v1/forges/attic/now | 404 | forge | attic",
                "/api/v1/forges/quarry/series | 400 | channel |",
                "/api/v1/forges/quarry/series?channel=%20 | 400 | channel | ' '",
                "/api/v1/forges/quarry/series?channel=gas&points=0 | 400 | points | 0",
                "/api/v1/forges/quarry/series?channel=gas&points=10001 | 400 | points | 10001",
                "/api/v1/forges/quarry/series?channel=gas&points=many | 400 | points | many",
                "/api/v1/forges/quarry/series?channel=gas&from=noon | 400 | from | noon",
                "/api/v1/forges/quarry/series?channel=gas&from=NaN | 400 | from | NaN",
                "/api/v1/forges/quarry/series?channel=gas&to=1e99 | 400 | to | 1e99",
                "/api/v1/forges/quarry/series?channel=gas&from=20&to=10 | 400 | from | 1970-01-01T00:00:20Z",
                "/api/v1/forges/quarry/series?channel=gas&to=2026-03-01T10:00 | 400 | to | 2026-03-01T10:00",
                "/api/v1/forges/quarry/alarms?limit=1001 | 400 | limit | 1001",
                "/api/v1/forges/quarry/burns?limit=-1 | 400 | limit | -1",
                "/api/v1/live?forge=attic | 404 | forge | attic",
                "/api/v1/forges/attic/fit | 404 | forge | attic",
                "/api/v1/forges/quarry/fit | 404 | forge | quarry",
                "/api/v1/forges/quarry/lining?limit=0 | 400 | limit | 0",
                "/api/v1/burns/quarry-9/fit | 404 | burn | quarry-9",
                "/api/v1/forges/attic/trials | 404 | forge | attic",
                "/api/v1/forges/attic/trials/report | 404 | forge | attic",
                "/api/v1/forges/quarry/trials/report?pressure=atm | 400 | pressure | atm",
                "/api/v1/forges/quarry/trials/report.pdf?from=noon | 400 | from | noon",
                "/api/v1/forges/quarry/trials?from=noon | 400 | from | noon",
                "/api/v1/forges/quarry/trials?burns=quarry-1,,quarry-2 | 400 | burns | quarry-1,,quarry-2",
                "/api/v1/forges/quarry/trials.csv?from=20&to=10 | 400 | from | 1970-01-01T00:00:20Z",
                "/api/v1/burns/quarry-9/report | 404 | burn | quarry-9",
                "/api/v1/burns/quarry-9/report.pdf | 404 | burn | quarry-9",
                "/api/v1/burns/quarry-9/export | 404 | burn | quarry-9",
                "/api/v1/burns/quarry-1/report?temperature=K | 400 | temperature | K",
                "/api/v1/burns/quarry-1/report?pressure=atm | 400 | pressure | atm",
                "/api/v1/burns/quarry-1/report?zone=Shed%2FForge | 400 | zone | Shed/Forge",
                "/api/v1/burns/quarry-1/report.pdf?paper=A0 | 400 | paper | A0",
                "/api/v1/burns/quarry-1/export?format=xls | 400 | format | xls",
            })
    void aRequestThatCannotBeUsedNamesTheFieldItsValueAndWhatIsAllowed(
            String path, int status, String field, String value) throws Exception {
        HttpResponse<String> response = dashboard.get(path);
        assertThat(response.statusCode()).isEqualTo(status);
        JsonNode error = json(response);
        assertThat(error.get("error").textValue()).isNotBlank();
        assertThat(error.get("field").textValue()).isEqualTo(field);
        assertThat(error.get("value").textValue()).isEqualTo(value);
        assertThat(error.get("allowed").textValue()).isNotBlank();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '^',
            value = {
                "notes | {} | 400 | text",
                "notes | {\"text\":\"  \"} | 400 | text",
                "notes | {\"text\":5} | 400 | text",
                "notes | {\"text\":\"x\",\"colour\":\"red\"} | 400 | colour",
                "notes | {\"text\":\"x\",\"name\":\"plug\"} | 400 | name",
                "notes | {\"text\":\"x\",\"time\":\"yesterday\"} | 400 | time",
                "settings | {\"name\":\"plug\",\"value\":\"half\"} | 400 | value",
                "settings | {\"name\":\"jet\",\"value\":\"1\"} | 400 | name",
                "settings | {\"name\":\"setting-jet\"} | 400 | value",
                "notes | {\"text\":\"x\",\"time\":\"2999-01-01T00:00:00Z\"} | 400 | time",
                "notes | {\"name\":\"stock\",\"text\":\"inside\"} | 400 | text",
                "settings | {\"name\":\"setting-jet\",\"value\":\"9 mm\"} | 400 | value",
                "settings | {\"name\":\"setting-jet\",\"value\":\"0.8\",\"unit\":\"kg\"} | 400 | value",
                "settings | {\"name\":\"setting-lowest-stable\",\"value\":\"0.2\"} | 400 | value",
                "settings | {\"name\":\"setting-first-fire\",\"value\":\"2\"} | 400 | name",
                "weighings | {} | 400 | value",
                "weighings | {\"value\":\"heavy\"} | 400 | value",
                "weighings | {\"value\":\"11\",\"unit\":\"stone\"} | 400 | value",
                "entries/correct | {} | 400 | writtenFor",
                "entries/correct | {\"writtenFor\":\"12\"} | 400 | name",
                "entries/correct | {\"writtenFor\":\"12\",\"name\":\"plug\",\"value\":\"in\"} | 404 | entry",
                "entries/correct | {\"writtenFor\":\"12\",\"name\":\"shelve\",\"withdraw\":true} | 400 | name",
                "alarms/fire/acknowledge | {} | 404 | alarm",
                "alarms/flame-out/acknowledge | {} | 409 | alarm",
                "alarms/flame-out/acknowledge | {\"by\":\"\"} | 400 | by",
                "alarms/fire/shelve | {\"minutes\":5} | 404 | alarm",
                "alarms/flame-out/shelve | {} | 400 | minutes",
                "alarms/flame-out/shelve | {\"minutes\":\"5\"} | 400 | minutes",
                "alarms/flame-out/shelve | {\"minutes\":0} | 400 | minutes",
                "alarms/flame-out/shelve | {\"minutes\":-5} | 400 | minutes",
                "alarms/flame-out/shelve | {\"minutes\":15.1} | 400 | minutes",
                "alarms/chamber-high/shelve | {\"minutes\":480.1} | 400 | minutes",
                "alarms/chamber-high/shelve | {\"minutes\":1e999} | 400 | minutes",
                "alarms/chamber-high/shelve | {\"minutes\":5,\"by\":7} | 400 | by",
                "alarms/chamber-high/shelve | {\"hours\":5} | 400 | hours",
                "alarms/fire/unshelve | {} | 404 | alarm",
                "alarms/chamber-high/unshelve | {} | 409 | alarm",
                "alarms/fire/service | {\"out\":true} | 404 | alarm",
                "alarms/chamber-high/service | {} | 400 | out",
                "alarms/chamber-high/service | {\"out\":\"yes\"} | 400 | out",
                "alarms/chamber-high/service | {\"out\":false} | 409 | alarm",
            })
    void aBodyThatCannotBeUsedNamesTheField(String path, String body, int status, String field) throws Exception {
        HttpResponse<String> response = dashboard.post(QUARRY + "/" + path, body);
        assertThat(response.statusCode()).isEqualTo(status);
        assertThat(json(response).get("field").textValue()).isEqualTo(field);
        assertThat(forge.notes()).isEmpty();
        assertThat(forge.settings()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {"[1] | object", "{\"text\": | JSON", "{{{{ | JSON"})
    void aBodyThatIsNoObjectIsRefused(String body, String word) throws Exception {
        HttpResponse<String> response = dashboard.post(QUARRY + "/notes", body);
        assertThat(response.statusCode()).isEqualTo(400);
        assertThat(json(response).get("error").textValue()).contains(word);
    }

    @Test
    void aBodyThatIsTooLargeIsRefused() throws Exception {
        String text = "{\"text\":\"" + "x".repeat(40_000) + "\"}";
        HttpResponse<String> response = dashboard.post(QUARRY + "/notes", text);
        assertThat(response.statusCode()).isEqualTo(413);
        assertThat(json(response).get("error").textValue()).contains("32768");
        HttpResponse<String> notePastItsLength =
                dashboard.post(QUARRY + "/notes", "{\"text\":\"" + "x".repeat(4_001) + "\"}");
        assertThat(notePastItsLength.statusCode()).isEqualTo(400);
    }

    @Test
    void aNoteIsInTheStoreWhenItIsAnswered() throws Exception {
        HttpResponse<String> response = dashboard.post(
                QUARRY + "/notes", "{\"name\":\"stock\",\"text\":\"in\",\"time\":\"2026-03-01T11:00:00+01:00\"}");
        assertThat(response.statusCode()).isEqualTo(201);
        assertThat(forge.notes()).hasSize(1);
        assertThat(forge.notes().get(0).name()).isEqualTo("stock");
        assertThat(forge.notes().get(0).time()).hasToString("2026-03-01T10:00:00Z");
        JsonNode listed = json(dashboard.get(QUARRY + "/notes?from=2026-03-01T00:00:00Z&to=2026-03-02T00:00:00Z"));
        assertThat(listed.at("/notes/0/text").textValue()).isEqualTo("in");
    }

    @Test
    void aNoteOfThisMomentIsListedAtOnceAndTheNewestStandsFirst() throws Exception {
        dashboard.post(QUARRY + "/notes", "{\"text\":\"first\"}");
        dashboard.post(QUARRY + "/notes", "{\"text\":\"second\"}");
        JsonNode listed = json(dashboard.get(QUARRY + "/notes"));
        assertThat(listed.get("notes").findValuesAsText("text")).containsExactly("second", "first");
    }

    @Test
    void anAcknowledgementReachesTheDaemonOnceWithItsName() throws Exception {
        fill();
        assertThat(dashboard
                        .post(QUARRY + "/alarms/flame-out/acknowledge", "{\"by\":\"Ida\"}")
                        .statusCode())
                .isEqualTo(200);
        assertThat(forge.acknowledged())
                .containsExactly(new ScriptedForge.Acknowledged("quarry", AlarmId.FLAME_OUT, "Ida"));
        assertThat(dashboard
                        .post(QUARRY + "/alarms/flame-out/acknowledge", "{\"by\":\"Ole\"}")
                        .statusCode())
                .isEqualTo(409);
    }

    @Test
    void aShelfHasItsEndAndCanBeEndedBeforeIt() throws Exception {
        fill();
        double before = forge.now().epochSeconds();
        JsonNode answer =
                json(dashboard.post(QUARRY + "/alarms/chamber-high/shelve", "{\"minutes\":7.5,\"by\":\"Ida\"}"));
        double after = forge.now().epochSeconds();
        assertThat(answer.get("minutes").doubleValue()).isEqualTo(7.5);
        assertThat(forge.acted())
                .containsExactly(
                        new ScriptedForge.Acted("quarry", AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 7.5 * 60, "Ida")));
        JsonNode standing = json(dashboard.get(QUARRY + "/alarms")).get("standing");
        assertThat(standing.findValuesAsText("state")).containsExactly("unacknowledged", "shelved");
        assertThat(standing.at("/0/until").isNull()).isTrue();
        assertThat(standing.at("/0/untilT").isNull()).isTrue();
        double until = standing.at("/1/untilT").doubleValue();
        // Shelved at some time between the question and its answer; the rest is room for rounding.
        assertThat(until).isBetween(before + 449.99, after + 450.01);
        assertThat(OffsetDateTime.parse(standing.at("/1/until").textValue()).toEpochSecond())
                .isEqualTo((long) until);
        assertThat(dashboard.post(QUARRY + "/alarms/chamber-high/unshelve", "").statusCode())
                .isEqualTo(200);
        assertThat(json(dashboard.get(QUARRY + "/now")).get("alarms").findValuesAsText("alarm"))
                .containsExactly("flame-out");
    }

    @Test
    void whatIsOutOfServiceIsShownUntilItIsBackAndCannotBeShelved() throws Exception {
        String path = QUARRY + "/alarms/shell-high/";
        assertThat(dashboard.post(path + "service", "{\"out\":true}").statusCode())
                .isEqualTo(200);
        assertThat(json(dashboard.get(QUARRY + "/now")).at("/alarms/0/state").textValue())
                .isEqualTo("out-of-service");
        HttpResponse<String> again = dashboard.post(path + "service", "{\"out\":true}");
        assertThat(again.statusCode()).isEqualTo(409);
        assertThat(json(again).get("error").textValue()).contains("shell-high").contains("out of service already");
        HttpResponse<String> shelved = dashboard.post(path + "shelve", "{\"minutes\":5}");
        assertThat(shelved.statusCode()).isEqualTo(409);
        assertThat(json(shelved).get("allowed").textValue()).contains("in service");
        JsonNode back = json(dashboard.post(path + "service", "{\"out\":false,\"by\":\"Ida\"}"));
        assertThat(back.get("out").booleanValue()).isFalse();
        assertThat(json(dashboard.get(QUARRY + "/now")).get("alarms")).isEmpty();
    }

    @Test
    void howLongACriticalAlarmMayBeShelvedIsSaid() throws Exception {
        HttpResponse<String> response = dashboard.post(QUARRY + "/alarms/flame-out/shelve", "{\"minutes\":60}");
        assertThat(response.statusCode()).isEqualTo(400);
        assertThat(json(response).get("value").textValue()).isEqualTo("60");
        assertThat(json(response).get("allowed").textValue())
                .contains("at most 15")
                .contains("at most 480");
        assertThat(forge.acted()).isEmpty();
    }

    @Test
    void withoutAVirtualForgeThereIsNothingToTrigger() throws Exception {
        assertThat(dashboard.get("/api/v1/demo/actions").statusCode()).isEqualTo(404);
        assertThat(dashboard
                        .post("/api/v1/demo/actions", "{\"action\":\"flame-out\"}")
                        .statusCode())
                .isEqualTo(404);
        forge.offerDemo("flame-out");
        assertThat(dashboard
                        .post("/api/v1/demo/actions", "{\"action\":\"dance\"}")
                        .statusCode())
                .isEqualTo(400);
        assertThat(dashboard
                        .post("/api/v1/demo/actions", "{\"action\":\"flame-out\"}")
                        .statusCode())
                .isEqualTo(200);
        assertThat(forge.triggered()).containsExactly("flame-out");
    }

    @Test
    void aStoreThatCannotAnswerIsNotTheAskersFault() throws Exception {
        forge.failArchive();
        HttpResponse<String> response = dashboard.get(QUARRY + "/series?channel=chamber");
        assertThat(response.statusCode()).isEqualTo(503);
        assertThat(response.headers().firstValue("Retry-After")).isPresent();
        assertThat(json(response).get("error").textValue()).contains("disk is gone");
    }

    @Test
    void healthSaysNotReadyAndLiveAtTheSameTime() throws Exception {
        assertThat(dashboard.get("/health").statusCode()).isEqualTo(200);
        forge.notReady();
        HttpResponse<String> response = dashboard.get("/health");
        assertThat(response.statusCode()).isEqualTo(503);
        assertThat(json(response).get("ready").booleanValue()).isFalse();
        assertThat(json(response).get("store").textValue()).isEqualTo("disk full");
        assertThat(dashboard.get("/health/live").statusCode()).isEqualTo(200);
    }

    @Test
    void healthTellsOfTheThreadThatJudgesTheReadings() throws Exception {
        forge.hang(6.25);
        JsonNode ledger = json(dashboard.get("/health")).get("ledger");
        assertThat(ledger.get("beating").booleanValue()).isFalse();
        assertThat(ledger.get("judgedAgoS").doubleValue()).isEqualTo(6.25);
        assertThat(ledger.get("restarts").intValue()).isEqualTo(1);
        assertThat(ledger.get("lastRestart").textValue()).isEqualTo("hung for 5.0 s");
        assertThat(ledger.get("unwatched")).isEmpty();
        assertThat(dashboard.get("/metrics").body())
                .contains("bankfire_ledger_beating 0\n")
                .contains("bankfire_ledger_restarts_total 1\n");
    }

    @Test
    void healthNamesTheForgesThatAreNotWatchedAndWhy() throws Exception {
        forge.unwatch(ScriptedForge.QUARRY);
        JsonNode unwatched = json(dashboard.get("/health")).at("/ledger/unwatched");
        assertThat(unwatched).hasSize(1);
        assertThat(unwatched.get(0).get("forge").textValue()).isEqualTo(ScriptedForge.QUARRY);
        assertThat(unwatched.get(0).get("why").textValue()).contains("not watched");
        assertThat(dashboard.get("/metrics").body()).contains("bankfire_unwatched_forges 1\n");
    }

    @Test
    void aDatabaseServerThatIsBehindIsToldAndDecidesNothing() throws Exception {
        assertThat(json(dashboard.get("/api/v1/store")).has("server")).isFalse();
        assertThat(dashboard.get("/metrics").body()).doesNotContain("bankfire_database");
        forge.server(ScriptedForge.SERVER_AWAY);
        for (String path : List.of("/health", "/api/v1/store")) {
            HttpResponse<String> response = dashboard.get(path);
            assertThat(response.statusCode()).isEqualTo(200);
            JsonNode server = json(response).get("server");
            assertThat(server.get("reachable").booleanValue()).isFalse();
            assertThat(server.get("waiting").longValue()).isEqualTo(144_000);
            assertThat(server.get("behindS").doubleValue()).isEqualTo(3_600);
            assertThat(server.get("awaySince").textValue()).isEqualTo("2026-03-01T09:00:00Z");
            assertThat(server.get("detail").textValue()).isEqualTo("connection refused");
        }
        assertThat(dashboard.get("/metrics").body())
                .contains("bankfire_database_reachable 0\n")
                .contains("bankfire_database_waiting 144000\n")
                .contains("bankfire_database_behind_seconds 3600\n")
                .contains("bankfire_database_dropped_total 12\n")
                .contains("bankfire_database_refused_total 3\n");
    }

    @Test
    void metricsAreLinesOfNameLabelAndNumber() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_071.4);
        String text = dashboard.get("/metrics").body();
        assertThat(text)
                .contains("bankfire_readings_stored_total 480\n")
                .contains("bankfire_source_bad_frames_total{source=\"serial \\\"A\\\"\"} 2\n")
                .contains("bankfire_chamber_celsius{forge=\"quarry\"} 1071.4\n")
                .contains("""
                        # TYPE bankfire_snapshot_lag_seconds histogram
                        bankfire_snapshot_lag_seconds_bucket{le="0.05"} 90
                        bankfire_snapshot_lag_seconds_bucket{le="0.1"} 99
                        bankfire_snapshot_lag_seconds_bucket{le="+Inf"} 100
                        bankfire_snapshot_lag_seconds_sum 4.5
                        bankfire_snapshot_lag_seconds_count 100
                        """);
        assertThat(text.lines().filter(line -> !line.startsWith("#")))
                .allMatch(line -> line.matches("[a-z_]+(\\{[a-z]+=\".*\"})? (NaN|-?[0-9.E]+)"));
    }

    @Test
    void outputsAreListedWithWhatTheyDid() throws Exception {
        assertThat(json(dashboard.get("/api/v1/outputs")).get("outputs")).isEmpty();
        fill();
        JsonNode outputs = json(dashboard.get("/api/v1/outputs")).get("outputs");
        assertThat(outputs.findValuesAsText("name")).containsExactly("broker", "porch");
        assertThat(outputs.at("/0/state").textValue()).isEqualTo("idle");
        assertThat(outputs.at("/0/lastSentAt").isNull()).isTrue();
        assertThat(outputs.at("/1/kind").textValue()).isEqualTo("mail");
        assertThat(outputs.at("/1/state").textValue()).isEqualTo("failing");
        assertThat(outputs.at("/1/detail").textValue()).isEqualTo("connection refused");
        assertThat(outputs.at("/1/sent").intValue()).isEqualTo(3);
        assertThat(outputs.at("/1/failed").intValue()).isEqualTo(1);
        assertThat(outputs.at("/1/waiting").intValue()).isEqualTo(2);
        assertThat(outputs.at("/1/dropped").intValue()).isEqualTo(4);
        assertThat(outputs.at("/1/lastSentAt").textValue())
                .isEqualTo(String.valueOf(forge.outputs().get(1).lastSentAt()));
        assertThat(dashboard.get("/metrics").body())
                .contains("bankfire_output_failing{output=\"broker\"} 0\n")
                .contains("bankfire_output_failing{output=\"porch\"} 1\n")
                .contains("bankfire_output_waiting{output=\"porch\"} 2\n")
                .contains("bankfire_output_dropped_total{output=\"porch\"} 4\n");
        HttpResponse<String> health = dashboard.get("/health");
        assertThat(health.statusCode()).isEqualTo(200);
        assertThat(json(health).at("/outputs/1/state").textValue()).isEqualTo("failing");
    }

    @Test
    void aTestOfAnOutputSaysWhatCameOfIt() throws Exception {
        fill();
        forge.testOf("porch", new Tested(false, "mail.example.org refused the password"));
        JsonNode good = json(dashboard.post("/api/v1/outputs/broker/test", ""));
        assertThat(good.get("done").booleanValue()).isTrue();
        JsonNode bad = json(dashboard.post("/api/v1/outputs/porch/test", "{}"));
        assertThat(bad.get("done").booleanValue()).isFalse();
        assertThat(bad.get("words").textValue()).isEqualTo("mail.example.org refused the password");
        HttpResponse<String> unknown = dashboard.post("/api/v1/outputs/cellar/test", "");
        assertThat(unknown.statusCode()).isEqualTo(404);
        assertThat(json(unknown).get("allowed").textValue()).isEqualTo("broker, porch");
        assertThat(dashboard
                        .post("/api/v1/outputs/porch/test", "{\"to\":\"x\"}")
                        .statusCode())
                .isEqualTo(400);
        assertThat(forge.tested()).containsExactly("broker", "porch");
    }

    @Test
    void aFitIsHandedOutAsItWasStored() throws Exception {
        fill();
        assertThat(dashboard.get("/api/v1/burns/quarry-1/fit").body()).isEqualTo(FIT);
        assertThat(dashboard.get(QUARRY + "/fit").body()).isEqualTo(FIT);
        assertThat(json(dashboard.get("/api/v1/burns/quarry-2/fit"))
                        .get("error")
                        .textValue())
                .contains("no fit of burn \"quarry-2\"");
    }

    @Test
    void theLiningIsToldBurnByBurnWithItsTrend() throws Exception {
        assertThat(json(dashboard.get(QUARRY + "/lining"))
                        .at("/trend/earlier/lossWPerK")
                        .isNull())
                .isTrue();
        fill();
        JsonNode lining = json(dashboard.get(QUARRY + "/lining"));
        assertThat(lining.get("losses").findValuesAsText("burn"))
                .containsExactly("quarry-1", "quarry-2", "quarry-3", "quarry-4", "quarry-5", "quarry-6", "quarry-7");
        assertThat(lining.at("/losses/0/lossWPerK").doubleValue()).isEqualTo(1.8);
        assertThat(lining.at("/losses/0/low95").doubleValue()).isEqualTo(1.71);
        assertThat(lining.at("/losses/0/start").textValue()).isEqualTo("1970-01-02T00:00:00Z");
        assertThat(lining.at("/trend/lossUp").booleanValue()).isTrue();
        assertThat(lining.at("/trend/why").textValue()).contains("2 burns in a row");
        assertThat(json(dashboard.get(QUARRY + "/lining?limit=3")).get("losses").findValuesAsText("burn"))
                .containsExactly("quarry-5", "quarry-6", "quarry-7");
    }

    @Test
    void whatIsNotThereIsToldInJson() throws Exception {
        HttpResponse<String> missing = dashboard.get("/api/v1/nothing");
        assertThat(missing.statusCode()).isEqualTo(404);
        assertThat(json(missing).get("error").textValue()).contains("/api/v1/nothing");
        HttpResponse<String> wrongMethod = dashboard.post(QUARRY + "/now", "{}");
        assertThat(wrongMethod.statusCode()).isEqualTo(405);
        assertThat(json(wrongMethod).get("error").textValue()).isNotBlank();
    }

    @Test
    void anEmptyWorkshopHasAnEmptyListOfForges() throws Exception {
        forge.forges().clear();
        assertThat(json(dashboard.get("/api/v1/forges")).get("forges")).isEmpty();
        assertThat(json(dashboard.get("/api/v1/forges/x/now")).get("allowed").textValue())
                .isEqualTo("none yet");
    }

    @Test
    void whatLiesAheadIsToldWithItsIntervalsAndForThePauseThatIsAskedFor() throws Exception {
        JsonNode none = json(dashboard.get("/api/v1/forges/quarry/outlook"));
        assertThat(none.get("outlook").isNull()).isTrue();
        assertThat(none.get("score").get("count").intValue()).isZero();
        fill();
        JsonNode answer = json(dashboard.get("/api/v1/forges/quarry/outlook?pauseS=900"));
        assertThat(forge.askedPauseS()).isEqualTo(900);
        assertThat(answer.get("currency").textValue()).isEqualTo("EUR");
        JsonNode outlook = answer.get("outlook");
        assertThat(outlook.get("hasFit").booleanValue()).isTrue();
        assertThat(outlook.get("chamberC").doubleValue()).isEqualTo(1_168);
        assertThat(outlook.at("/settling/steadyC/low95").doubleValue()).isEqualTo(1_199);
        assertThat(outlook.at("/idle/kind").textValue()).isEqualTo("down");
        assertThat(outlook.at("/idle/turnPa").doubleValue()).isEqualTo(-38_000);
        assertThat(outlook.at("/idle/now/kgPerHour/value").doubleValue()).isEqualTo(0.46);
        assertThat(outlook.at("/doubts/0/code").textValue()).isEqualTo("plug-moved");
        assertThat(answer.at("/score/latest/1/happenedC").doubleValue()).isEqualTo(1_192);
    }

    @ParameterizedTest
    @ValueSource(strings = {"59", "43201", "soon", "NaN", ""})
    void aPauseThatNobodyMakesIsRefused(String pause) throws Exception {
        HttpResponse<String> answer = dashboard.get("/api/v1/forges/quarry/outlook?pauseS=" + pause);
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(json(answer).get("field").textValue()).isEqualTo("pauseS");
        assertThat(json(answer).get("allowed").textValue()).isEqualTo("seconds from 60 to 43200");
    }
}
