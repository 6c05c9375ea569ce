package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.analysis.alarm.AlarmState.NORMAL;
import static org.bankfire.analysis.alarm.AlarmState.SUPPRESSED;
import static org.bankfire.analysis.alarm.AlarmState.UNACKNOWLEDGED;
import static org.bankfire.analysis.monitor.Shed.bad;
import static org.bankfire.analysis.monitor.Shed.chamber;
import static org.bankfire.analysis.monitor.Shed.gas;
import static org.bankfire.analysis.monitor.Shed.reading;

import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;

/** A sensor that was blind, or is, must not hide what another one sees, or it sees itself. */
class BlindnessTest {
    private static final double WORKING_PA = 50e3;

    private final Shed shed = new Shed();

    /** A loose contact makes its alarm stand for minutes after the last spell; the flame may go out in them. */
    @Test
    void aFlameOutIsToldWhileTheAlarmOfALooseContactThatIsGoodAgainStillStands() {
        shed.steady(0, 100, 1_000, WORKING_PA);
        for (int spell = 0; spell < 3; spell++) {
            double from = 100 + 30 * spell;
            for (int i = 0; i < 24; i++) {
                shed.accept(bad(ChannelNames.CHAMBER, from + i * 0.25, Quality.OPEN, Unit.CELSIUS));
                shed.accept(gas(from + i * 0.25, WORKING_PA));
            }
            shed.steady(from + 6, from + 30, 1_000, WORKING_PA);
        }
        double outS = 200;
        shed.steady(190, outS, 1_000, WORKING_PA);
        assertThat(shed.monitor.snapshot().flame()).isEqualTo(FlameState.BURNING);
        for (int i = 0; i < 160; i++) {
            double since = i * 0.25;
            double celsius = 1_000 - 300 * -Math.expm1(-since / 20) - since;
            shed.accept(chamber(outS + since, celsius), gas(outS + since, WORKING_PA));
        }
        assertThat(shed.states(AlarmId.FLAME_OUT))
                .containsExactly(SUPPRESSED, NORMAL, SUPPRESSED, NORMAL, SUPPRESSED, UNACKNOWLEDGED);
        assertThat(shed.states(AlarmId.NO_IGNITION)).doesNotContain(UNACKNOWLEDGED);
        assertThat(shed.raisedAtS(AlarmId.FLAME_OUT)).isBetween(outS, outS + 15);
        assertThat(shed.states(AlarmId.CHAMBER_SENSOR_BAD)).last().isEqualTo(UNACKNOWLEDGED);
    }

    @Test
    void aForgeThatBurnsWhenItIsFirstSeenIsTakenToBurn() {
        shed.steady(0, 120, 1_000, WORKING_PA);
        assertThat(shed.monitor.snapshot().flame()).isEqualTo(FlameState.BURNING);
        assertThat(shed.alarms).isEmpty();
    }

    @Test
    void aFlameWitnessThatIsStuckBrightHidesNoUnlitGas() {
        for (double second = 0; second < 120; second += 0.25) {
            shed.accept(
                    gas(second, second < 20 ? 0 : WORKING_PA),
                    reading(ChannelNames.FLAME, second, 1, Unit.RATIO),
                    chamber(second, 20));
        }
        assertThat(shed.states(AlarmId.NO_IGNITION)).containsExactly(UNACKNOWLEDGED);
        assertThat(shed.states(AlarmId.GAS_LEFT_ON)).containsExactly(UNACKNOWLEDGED);
        assertThat(shed.boundaries).isEmpty();
    }
}
