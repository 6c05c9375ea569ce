package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.alarm.AlarmState.ACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.LATCHED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.NORMAL;
import static org.bankfire.analysis.alarm.AlarmState.RETURNED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.UNACKNOWLEDGED;
import static org.bankfire.analysis.monitor.Shed.at;
import static org.bankfire.analysis.monitor.Shed.bad;
import static org.bankfire.analysis.monitor.Shed.chamber;
import static org.bankfire.analysis.monitor.Shed.gas;
import static org.bankfire.analysis.monitor.Shed.reading;

import java.util.List;
import java.util.Random;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.steady.Steadiness;
import org.junit.jupiter.api.Test;

class ForgeMonitorTest {
    private final Shed shed = new Shed();

    @Test
    void aChamberOverItsLimitIsCriticalAfterASecondAndClearsBelowTheDeadband() {
        shed.steady(0, 10, 1200, 0);
        shed.steady(10, 20, 1265, 0);
        shed.steady(20, 30, 1250, 0);
        shed.steady(30, 40, 1247, 0);
        assertThat(shed.raisedAtS(AlarmId.CHAMBER_OVER_LIMIT)).isEqualTo(11);
        List<AlarmTransition> over = shed.transitions(AlarmId.CHAMBER_OVER_LIMIT);
        assertThat(over).extracting(AlarmTransition::state).containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED);
        assertThat(over.get(0).priority()).isEqualTo(Priority.CRITICAL);
        assertThat(over.get(0).value()).isEqualTo(1265);
        assertThat(over.get(0).why()).contains("1265 °C").contains("1260 °C");
        assertThat(over.get(1).time()).isEqualTo(at(35));
    }

    @Test
    void shellAndGasPressureHaveLimitsOfTheirOwn() {
        for (int i = 0; i < 60; i++) {
            shed.accept(
                    chamber(i, 20),
                    reading(ChannelNames.SHELL, i, i < 20 ? 200 : 260, Unit.CELSIUS),
                    reading(ChannelNames.GAS, i, i < 30 ? 0 : 4.5, Unit.BAR));
        }
        assertThat(shed.raisedAtS(AlarmId.SHELL_HIGH)).isEqualTo(25);
        assertThat(shed.raisedAtS(AlarmId.GAS_PRESSURE_HIGH)).isEqualTo(31);
    }

    @Test
    void silenceIsNoDataAtItsExactDeadlineHoweverRarelyAnybodyLooks() {
        shed.steady(0, 10, 20, 0);
        shed.monitor.advance(at(60));
        assertThat(shed.raisedAtS(AlarmId.NO_DATA)).isCloseTo(9.75 + 3, within(1e-5));
        assertThat(shed.states(AlarmId.CHAMBER_SENSOR_BAD)).isEmpty();
        assertThat(shed.transitions(AlarmId.NO_DATA).get(0).priority()).isEqualTo(Priority.HIGH);
        shed.steady(60, 70, 20, 0);
        assertThat(shed.states(AlarmId.NO_DATA)).containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void noDataIsCriticalWhileGasFlowedAndHoldsTheFlameAlarmsBack() {
        shed.steady(0, 10, 20, 0);
        shed.steady(10, 15, 20, 50e3);
        shed.monitor.advance(at(60));
        AlarmTransition noData = shed.transitions(AlarmId.NO_DATA).get(0);
        assertThat(noData.priority()).isEqualTo(Priority.CRITICAL);
        assertThat(noData.why()).contains("3.0 s").contains("close the gas");
        assertThat(shed.states(AlarmId.NO_IGNITION)).containsExactly(AlarmState.SUPPRESSED);
        assertThat(shed.states(AlarmId.FLAME_OUT)).containsExactly(AlarmState.SUPPRESSED);
    }

    @Test
    void aForgeThatIsNeverHeardOfHasNoData() {
        shed.monitor.advance(at(0));
        shed.monitor.advance(at(30));
        assertThat(shed.raisedAtS(AlarmId.NO_DATA)).isCloseTo(10, within(1e-3));
        assertThat(shed.monitor.snapshot().time()).isNull();
    }

    @Test
    void aSourceThatIsSlowByNatureIsNotTakenForSilent() {
        for (int i = 0; i < 100; i++) {
            shed.accept(chamber(i * 5, 20), gas(i * 5, 0));
        }
        assertThat(shed.alarms).isEmpty();
    }

    @Test
    void oneSpikeIsNoBadSensorButABrokenWireIs() {
        shed.steady(0, 10, 20, 0);
        shed.accept(bad(ChannelNames.CHAMBER, 10, Quality.SPIKE, Unit.CELSIUS));
        shed.steady(10.25, 20, 20, 0);
        assertThat(shed.alarms).isEmpty();
        for (int i = 0; i < 40; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, 20 + i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(20 + i * 0.25, 0));
        }
        assertThat(shed.raisedAtS(AlarmId.CHAMBER_SENSOR_BAD)).isEqualTo(22.5);
        assertThat(shed.transitions(AlarmId.CHAMBER_SENSOR_BAD).get(0).why()).contains("open");
    }

    @Test
    void aLooseContactIsABadSensorToo() {
        shed.steady(0, 10, 20, 0);
        for (int i = 0; i < 40; i++) {
            shed.accept(
                    i % 2 == 0
                            ? bad(ChannelNames.CHAMBER, 10 + i * 0.25, Quality.OPEN, Unit.CELSIUS)
                            : chamber(10 + i * 0.25, 20),
                    gas(10 + i * 0.25, 0));
        }
        assertThat(shed.states(AlarmId.CHAMBER_SENSOR_BAD)).containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void aSensorThatFallsSilentAloneIsBad() {
        shed.steady(0, 10, 20, 0);
        for (int i = 0; i < 40; i++) {
            shed.accept(gas(10 + i * 0.25, 0));
        }
        assertThat(shed.raisedAtS(AlarmId.CHAMBER_SENSOR_BAD)).isCloseTo(9.75 + 3 + 1 + 2.5, within(1e-5));
        assertThat(shed.transitions(AlarmId.CHAMBER_SENSOR_BAD).get(0).why()).contains("silent");
        assertThat(shed.states(AlarmId.NO_DATA)).isEmpty();
    }

    @Test
    void anAcknowledgedBadSensorCallsAgainAndGraverWhenTheGasIsOpened() {
        for (int i = 0; i < 40; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(i * 0.25, 0));
        }
        assertThat(shed.monitor.acknowledge(AlarmId.CHAMBER_SENSOR_BAD, at(10), "Ada"))
                .isTrue();
        for (int i = 0; i < 40; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, 11 + i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(11 + i * 0.25, 40e3));
        }
        List<AlarmTransition> bad = shed.transitions(AlarmId.CHAMBER_SENSOR_BAD);
        assertThat(bad)
                .extracting(AlarmTransition::state)
                .containsExactly(UNACKNOWLEDGED, ACKNOWLEDGED, UNACKNOWLEDGED);
        assertThat(bad)
                .extracting(AlarmTransition::priority)
                .containsExactly(Priority.HIGH, Priority.HIGH, Priority.CRITICAL);
        assertThat(shed.states(AlarmId.NO_IGNITION)).containsExactly(AlarmState.SUPPRESSED);
    }

    @Test
    void gasThatDoesNotLightIsNoIgnitionWithinFifteenSecondsThenGasLeftOn() {
        shed.steady(0, 20, 20, 0);
        shed.steady(20, 120, 20, 50e3);
        assertThat(shed.raisedAtS(AlarmId.NO_IGNITION)).isEqualTo(33.5);
        assertThat(shed.raisedAtS(AlarmId.GAS_LEFT_ON)).isEqualTo(78.5);
        assertThat(shed.transitions(AlarmId.NO_IGNITION).get(0).why()).contains("Close the gas at the cylinder");
        shed.steady(120, 130, 20, 0);
        assertThat(shed.states(AlarmId.NO_IGNITION)).containsExactly(UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED);
        assertThat(shed.states(AlarmId.GAS_LEFT_ON)).containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED);
        assertThat(shed.monitor.acknowledge(AlarmId.NO_IGNITION, at(131), "Ada"))
                .isTrue();
        assertThat(shed.monitor.acknowledge(AlarmId.NO_IGNITION, at(132), "Ada"))
                .isFalse();
        assertThat(shed.states(AlarmId.NO_IGNITION)).endsWith(NORMAL);
        assertThat(shed.boundaries).isEmpty();
    }

    @Test
    void lateReadingsAndDuplicatesMoveNothing() {
        shed.steady(0, 10, 20, 0);
        shed.accept(chamber(5, 1300), chamber(9.75, 1300), chamber(8, 1300));
        shed.steady(10, 14, 20, 0);
        assertThat(shed.alarms).isEmpty();
        assertThat(shed.monitor.snapshot().chamber()).isEqualTo(chamber(13.75, 20));
    }

    @Test
    void lostLinesAreCountedAndARestartIsNoticed() {
        double[] numbers = {10, 11, 15, 16, 65_530, 2, 3, 0, 1};
        for (int i = 0; i < numbers.length; i++) {
            shed.accept(reading(ChannelNames.SEQUENCE, i, numbers[i], Unit.NONE));
        }
        assertThat(shed.sources)
                .extracting(SourceEvent::kind)
                .containsExactly(
                        SourceEvent.Kind.LINES_LOST,
                        SourceEvent.Kind.LINES_LOST,
                        SourceEvent.Kind.LINES_LOST,
                        SourceEvent.Kind.RESTARTED);
        // The third is a sixteen-bit counter that wrapped: 65,531 to 65,535, then 0 and 1.
        assertThat(shed.sources).extracting(SourceEvent::value).startsWith(3.0, 65_513.0, 7.0);
    }

    @Test
    void aReplayedNoteAcknowledgesAsTheUserDid() {
        shed.steady(0, 20, 1265, 0);
        Note acknowledged = shed.monitor
                .act(AlarmAction.acknowledge(AlarmId.CHAMBER_OVER_LIMIT, "Ada"), at(20))
                .orElseThrow();
        assertThat(acknowledged.text()).isEqualTo("chamber-over-limit Ada");

        Shed again = new Shed();
        again.steady(0, 20, 1265, 0);
        again.monitor.accept(acknowledged);
        assertThat(again.alarms).isEqualTo(shed.alarms);
        again.monitor.accept(new Note(Shed.ID, at(21), Note.ACKNOWLEDGE, "chamber-high"));
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED, ACKNOWLEDGED);
    }

    @Test
    void latchedAlarmsSurviveARestart() {
        AlarmTransition before = new AlarmTransition(
                Shed.ID, at(-100), AlarmId.FLAME_OUT, UNACKNOWLEDGED, Priority.CRITICAL, 1100, "The flame is out.");
        AlarmTransition older = new AlarmTransition(
                Shed.ID, at(-200), AlarmId.FLAME_OUT, NORMAL, Priority.CRITICAL, 1100, "Acknowledged.");
        shed.monitor.restore(List.of(before, older), List.of());
        assertThat(shed.monitor.snapshot().alarms()).hasSize(1);
        shed.steady(0, 90, 20, 0);
        assertThat(shed.states(AlarmId.FLAME_OUT)).containsExactly(LATCHED_UNACKNOWLEDGED);
        assertThat(shed.monitor.acknowledge(AlarmId.FLAME_OUT, at(91), "Ada")).isTrue();
        assertThat(shed.monitor.snapshot().alarms()).isEmpty();
    }

    @Test
    void whatOnlyTheDaemonSeesIsAnAlarmLikeAnyOther() {
        shed.steady(0, 10, 20, 0);
        shed.monitor.condition(AlarmId.DISK_NEARLY_FULL, true, at(10), 3, "3 % of the disk is free.");
        shed.steady(10, 12, 20, 0);
        shed.monitor.condition(AlarmId.DISK_NEARLY_FULL, false, at(12), 30, "30 % of the disk is free.");
        assertThat(shed.transitions(AlarmId.DISK_NEARLY_FULL))
                .extracting(AlarmTransition::why)
                .containsExactly("3 % of the disk is free.", "30 % of the disk is free.");
        assertThatThrownBy(() -> shed.monitor.condition(AlarmId.FLAME_OUT, true, at(13), 0, ""))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("flame-out");
    }

    @Test
    void flowAndHeatInputFollowTheJetThatIsInForce() {
        shed.steady(0, 10, 500, 100e3);
        double flow = Jet.massFlowKgPerS(Shed.propane().jetGas(), 0.8e-3, 0.85, 100e3, 101_325, 293);
        assertThat(shed.monitor.snapshot().gasFlowKgPerS()).isCloseTo(flow, within(1e-12));
        assertThat(shed.monitor.snapshot().heatInputW())
                .isCloseTo(flow * Shed.propane().lowerHeatingValueJPerKg(), within(1e-6));
        // 0.03 / 0.85 of the discharge coefficient is the greatest part.
        assertThat(shed.monitor.snapshot().gasFlowRelativeUncertainty()).isBetween(0.035, 0.045);
        shed.monitor.accept(new Setting(Shed.ID, at(10), "setting-jet", "1.0", "mm"));
        assertThat(shed.monitor.snapshot().gasFlowKgPerS()).isCloseTo(flow * 1.5625, within(1e-9));
        shed.monitor.accept(new Setting(Shed.ID, at(10), "setting-jet", "nonsense", ""));
        assertThat(shed.monitor.snapshot().gasFlowKgPerS()).isCloseTo(flow * 1.5625, within(1e-9));
    }

    /**
     * Openings of 99 cm² and 60.8 cm² in 0.2296 m² at 1000 °C, worked by hand: 148.56 kW/m² of black radiation, effective
     * emissivity 0.98886 with one and 0.98164 with both, of which 0.5770 and 0.5203 get through a wall of 76 mm.
     */
    @Test
    void aPulledPlugRadiates() {
        shed.steady(0, 10, 1000, 0);
        assertThat(shed.monitor.snapshot().openingsW()).isCloseTo(839.2, within(1.0));
        shed.monitor.accept(new Setting(Shed.ID, at(10), Setting.PLUG, "out", ""));
        assertThat(shed.monitor.snapshot().openingsW()).isCloseTo(1294.4, within(1.0));
    }

    @Test
    void channelsBeyondTheBoundAreNotKept() {
        for (int i = 0; i < 1000; i++) {
            shed.accept(reading("extra-" + i, i, i, Unit.NONE));
        }
        assertThat(shed.monitor.snapshot().latest()).hasSize(ForgeMonitor.MAX_CHANNELS);
    }

    @Test
    void aReadingOfAnotherForgeIsRefused() {
        Reading other =
                Reading.good(new Channel("barn", ChannelNames.CHAMBER), 20, Unit.CELSIUS, Shed.START, Shed.START);
        assertThatThrownBy(() -> shed.monitor.accept(other))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("barn:chamber");
    }

    @Test
    void aLevelChamberIsSteadyUntilItsSensorFails() {
        Random noise = new Random(9);
        for (int i = 0; i < 1_600; i++) {
            shed.accept(chamber(i * 0.25, 1_100 + 0.3 * noise.nextGaussian()));
        }
        Steadiness steady = shed.monitor.snapshot().steadiness();
        assertThat(steady.state()).isEqualTo(Steadiness.State.STEADY);
        assertThat(steady.bandKPerMin()).isEqualTo(2);
        assertThat(steady.largestKPerMin()).isLessThan(1);
        assertThat(steady.steadyForS()).isBetween(250.0, 350.0);
        shed.monitor.advance(at(450));
        assertThat(shed.monitor.snapshot().steadiness()).isEqualTo(Steadiness.UNKNOWN);
    }

    @Test
    void aFastRiseHasItsRateWithAnHonestError() {
        Random noise = new Random(5);
        for (int i = 0; i < 400; i++) {
            shed.accept(chamber(i * 0.25, 300 + i * 0.25 * 0.5 + noise.nextGaussian()));
        }
        ForgeSnapshot snapshot = shed.monitor.snapshot();
        assertThat(snapshot.chamberRateStandardErrorKPerMin()).isBetween(0.05, 1.0);
        assertThat(snapshot.chamberRateKPerMin()).isCloseTo(30, within(4 * snapshot.chamberRateStandardErrorKPerMin()));
    }
}
