package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.monitor.Shed.at;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.flame.BenchForge;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

/** Whole burns from the bench forge through the monitor. */
class BurnScriptTest {
    @Test
    void aBurnIsLitGoesSteadyIdlesAndIsOut() {
        Script script = new Script(3, 12, 4);
        script.run(30);
        script.light(20e3);
        script.run(1800);
        script.forge.pressurePa = 8e3;
        script.run(120);
        assertThat(script.shed.monitor.snapshot().phase()).isEqualTo(BurnPhase.IDLING);
        script.forge.pressurePa = 0;
        script.forge.lit = false;
        script.run(60);
        assertThat(script.shed.monitor.snapshot().phase()).isEqualTo(BurnPhase.COOLING);
        assertThat(script.shed.monitor.snapshot().flame()).isEqualTo(FlameState.OFF);

        assertThat(script.shed.boundaries)
                .extracting(BurnBoundary::stage)
                .startsWith(BurnBoundary.Stage.LIT)
                .contains(BurnBoundary.Stage.IDLE)
                .endsWith(BurnBoundary.Stage.OUT);
        assertThat(script.shed.alarms).isEmpty();
        Burn last = script.shed.burns.get(script.shed.burns.size() - 1);
        assertThat(last.start().secondsSince(Shed.START)).isCloseTo(script.gasOnS, within(0.5));
        assertThat(last.id()).isEqualTo(Burn.idOf(Shed.ID, last.start()));
        WallTime end = last.end();
        assertThat(end).isNotNull();
        double expectedKg = script.gasKg;
        assertThat(last.gasUsedKg()).isCloseTo(expectedKg, within(0.002 * expectedKg));
        assertThat(last.peakC()).isGreaterThan(800);
    }

    @Test
    void aFlameOutIsAlarmedEndsTheBurnAndStandsUntilAcknowledged() {
        Script script = new Script(2, 12, 4);
        script.run(30);
        script.light(50e3);
        script.run(900);
        double outAt = script.forge.timeS();
        script.forge.lit = false;
        script.run(60);
        assertThat(script.shed.raisedAtS(AlarmId.FLAME_OUT) - outAt).isBetween(0.5, 10.0);
        AlarmTransition raised = script.shed.transitions(AlarmId.FLAME_OUT).get(0);
        assertThat(raised.why()).contains("Close the gas at the cylinder, let the chamber air out, only then relight");
        assertThat(script.shed.monitor.snapshot().flame()).isEqualTo(FlameState.OUT);
        script.forge.pressurePa = 0;
        script.run(30);
        assertThat(script.shed.states(AlarmId.FLAME_OUT))
                .containsExactly(AlarmState.UNACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED);
        assertThat(script.shed.boundaries).extracting(BurnBoundary::stage).endsWith(BurnBoundary.Stage.OUT);
    }

    @Test
    void theSameReadingsGiveTheSameEventsWhateverTheTicks() {
        Script script = eventful();
        for (int seed = 1; seed <= 5; seed++) {
            Shed again = new Shed(12);
            Random ticks = new Random(seed);
            WallTime before = Shed.START;
            for (Object input : script.inputs) {
                WallTime time = timeOf(input);
                while (ticks.nextInt(4) != 0) {
                    double gap = time.secondsSince(before);
                    before = before.plusSeconds(Math.max(0, gap * ticks.nextDouble()));
                    again.monitor.advance(before);
                }
                give(again, input);
                before = time;
            }
            assertThat(again.told).isEqualTo(script.shed.told);
        }
        assertThat(script.shed.alarms)
                .extracting(AlarmTransition::alarm)
                .contains(
                        AlarmId.NO_IGNITION,
                        AlarmId.FLAME_OUT,
                        AlarmId.GAS_LEFT_ON,
                        AlarmId.CHAMBER_SENSOR_BAD,
                        AlarmId.NO_DATA,
                        AlarmId.CHAMBER_OVER_LIMIT);
        assertThat(script.shed.annunciationsInTenMinutes()).isLessThanOrEqualTo(10);
        List<WallTime> times =
                script.shed.alarms.stream().map(AlarmTransition::time).toList();
        assertThat(times).isSorted();
    }

    @Test
    void aClockThatIsSetBackOrForwardIsBridged() {
        for (double step : new double[] {-3600, -45, 45, 3600}) {
            Script plain = new Script(3, 12, 4);
            Script stepped = new Script(3, 12, 4);
            for (Script script : List.of(plain, stepped)) {
                script.run(30);
                script.light(20e3);
                script.run(300);
                script.sourceAheadS = script == stepped ? step : 0;
                script.run(300);
            }
            assertThat(stepped.shed.sources).as("step %f", step).hasSize(1);
            assertThat(stepped.shed.sources.get(0).kind()).isEqualTo(SourceEvent.Kind.CLOCK_STEPPED);
            assertThat(stepped.shed.sources.get(0).value()).isCloseTo(step, within(1.0));
            assertThat(stepped.shed.alarms)
                    .extracting(AlarmTransition::alarm)
                    .as("step %f", step)
                    .containsOnly(AlarmId.CLOCK_STEPPED);
            ForgeSnapshot expected = plain.shed.monitor.snapshot();
            ForgeSnapshot seen = stepped.shed.monitor.snapshot();
            assertThat(seen.phase()).isEqualTo(expected.phase());
            assertThat(seen.chamberRateKPerMin())
                    .isCloseTo(
                            expected.chamberRateKPerMin(), within(0.2 + Math.abs(expected.chamberRateKPerMin()) / 20));
            assertThat(stepped.usedKg()).isCloseTo(plain.usedKg(), within(0.02 * plain.usedKg()));
        }
    }

    @Test
    void aSourceWhoseClockIsWrongFromTheStartIsNotTakenForSilent() {
        for (double ahead : new double[] {-86_400, 86_400}) {
            Script script = new Script(3, 12, 4);
            script.sourceAheadS = ahead;
            script.ticks = true;
            script.run(120);
            assertThat(script.shed.alarms).isEmpty();
            script.shed.monitor.advance(at(script.forge.timeS() + 10));
            assertThat(script.shed.alarms).extracting(AlarmTransition::alarm).containsExactly(AlarmId.NO_DATA);
        }
    }

    @Test
    void theDaemonsOwnClockStepIsBridgedWhenItSaysSo() {
        Shed shed = new Shed();
        shed.steady(0, 30, 20, 0);
        shed.monitor.accept(new Note(Shed.ID, at(30), Note.CLOCK_STEP, "3600"));
        shed.steady(3630, 3660, 20, 0);
        assertThat(shed.sources).extracting(SourceEvent::value).containsExactly(3600.0);
        assertThat(shed.alarms).extracting(AlarmTransition::alarm).containsOnly(AlarmId.CLOCK_STEPPED);
        assertThat(shed.monitor.snapshot().time()).isEqualTo(at(3659.75));
    }

    @Test
    void withoutAPressureBurnsAreToldFromTheTemperatureAndNothingIsSaidOfTheFlame() {
        Script script = new Script(3, 12, 4);
        script.withGas = false;
        script.run(30);
        script.light(20e3);
        script.run(600);
        assertThat(script.shed.monitor.snapshot().flame()).isEqualTo(FlameState.UNAVAILABLE);
        script.forge.lit = false;
        script.forge.pressurePa = 0;
        script.run(300);
        assertThat(script.shed.boundaries)
                .extracting(BurnBoundary::stage)
                .startsWith(BurnBoundary.Stage.LIT)
                .endsWith(BurnBoundary.Stage.OUT);
        assertThat(script.shed.alarms).isEmpty();
    }

    @Test
    void aLongDroppingLineDoesNotFloodTheUser() {
        Script script = new Script(4, 12, 4);
        script.run(30);
        script.light(40e3);
        script.run(120);
        for (int i = 0; i < 60; i++) {
            script.run(5);
            script.silent(5);
        }
        for (int i = 0; i < 60; i++) {
            script.chamberQuality = i % 2 == 0 ? Quality.OPEN : Quality.GOOD;
            script.run(8);
        }
        assertThat(script.shed.alarms).isNotEmpty();
        assertThat(script.shed.annunciationsInTenMinutes()).isLessThanOrEqualTo(10);
    }

    /** Everything that goes wrong in one evening. */
    private static Script eventful() {
        Script script = new Script(2, 12, 4);
        script.run(20);
        script.forge.pressurePa = 40e3;
        script.run(80);
        script.forge.pressurePa = 0;
        script.run(60);
        script.note(AlarmId.NO_IGNITION);
        script.light(60e3);
        script.run(400);
        script.silent(8);
        script.run(200);
        script.chamberQuality = Quality.OPEN;
        script.run(10);
        script.chamberQuality = Quality.GOOD;
        script.run(200);
        script.forge.pressurePa = 150e3;
        script.run(900);
        script.forge.pressurePa = 60e3;
        script.run(300);
        script.forge.lit = false;
        script.run(90);
        script.note(AlarmId.FLAME_OUT);
        script.forge.pressurePa = 0;
        script.run(120);
        return script;
    }

    private static WallTime timeOf(Object input) {
        return input instanceof Reading reading ? reading.receiptTime() : ((Note) input).time();
    }

    private static void give(Shed shed, Object input) {
        if (input instanceof Reading reading) {
            shed.monitor.accept(reading);
        } else {
            shed.monitor.accept((Note) input);
        }
    }

    /** A person at the bench forge, and the source that reports it. */
    private static final class Script {
        final Shed shed;
        final BenchForge forge;
        final double hz;
        final List<Object> inputs = new ArrayList<>();
        Quality chamberQuality = Quality.GOOD;
        boolean withGas = true;
        boolean ticks;
        double sourceAheadS;
        double gasOnS;
        double gasKg;
        private long number;

        Script(int seed, double lagS, double hz) {
            shed = new Shed(lagS);
            forge = new BenchForge(seed, lagS);
            this.hz = hz;
        }

        void light(double pressurePa) {
            gasOnS = forge.timeS();
            forge.pressurePa = pressurePa;
            run(2);
            forge.lit = true;
        }

        void run(double seconds) {
            double end = forge.timeS() + seconds - 1e-6;
            while (forge.timeS() < end) {
                forge.run(1 / hz);
                if (ticks) {
                    shed.monitor.advance(at(forge.timeS() - 0.02));
                }
                gasKg += Jet.massFlowKgPerS(Shed.propane().jetGas(), 0.8e-3, 0.85, forge.pressurePa, 101_325, 293) / hz;
                double now = forge.timeS();
                Reading chamber = Shed.chamber(now, forge.reading());
                send(
                        chamberQuality.isBad()
                                ? Shed.bad(ChannelNames.CHAMBER, now, chamberQuality, Unit.CELSIUS)
                                : chamber);
                if (withGas) {
                    send(Shed.gas(now, forge.pressurePa));
                }
                send(Shed.reading(ChannelNames.SEQUENCE, now, (double) number++, Unit.NONE));
            }
        }

        void silent(double seconds) {
            forge.run(seconds);
            gasKg +=
                    Jet.massFlowKgPerS(Shed.propane().jetGas(), 0.8e-3, 0.85, forge.pressurePa, 101_325, 293) * seconds;
        }

        void note(AlarmId alarm) {
            Note note = new Note(Shed.ID, at(forge.timeS() + 0.1), Note.ACKNOWLEDGE, alarm.code());
            inputs.add(note);
            shed.monitor.accept(note);
        }

        double usedKg() {
            return shed.burns.get(shed.burns.size() - 1).gasUsedKg();
        }

        private void send(Reading reading) {
            Reading sent = new Reading(
                    reading.channel(),
                    reading.value(),
                    reading.unit(),
                    reading.standardUncertainty(),
                    reading.quality(),
                    reading.sourceTime().plusSeconds(sourceAheadS),
                    reading.receiptTime());
            inputs.add(sent);
            shed.monitor.accept(sent);
        }
    }
}
