package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.flame.FlameTest;
import org.bankfire.analysis.forge.ForgeDescription;

/** The wiring of one forge's monitor: one part a subject, made once and in the order in which they need each other. */
final class MonitorParts {
    private static final double S_PER_MIN = 60;

    final String forge;
    final EventClock clock = new EventClock();
    final Channels channels = new Channels();
    final TemperatureTrend trend = new TemperatureTrend();
    final HeatAccount heat;
    final GasState gas;
    final BurnBook burns;
    final Fire fire;
    final ForgeAlarms alarms;
    final LimitAlarms limits;
    final FlameAlarms flameAlarms;
    final SensorHealth sensors;
    final Silence silence;
    final StreamEvents stream;
    final Conditions conditions;

    MonitorParts(ForgeDescription description, MonitorSettings settings, ForgeListener listener) {
        forge = description.id();
        heat = new HeatAccount(description, settings.gasOnPa());
        gas = heat.gas();
        burns = new BurnBook(forge, clock, channels, S_PER_MIN * settings.steadyBandKPerS(), listener);
        FlameTest test = new FlameTest(description, settings.ratedStockShare());
        fire = new Fire(test, burns.tracker(), gas, settings.lightingTimeS());
        alarms = new ForgeAlarms(forge, clock, channels, fire, gas, new AlarmWords(settings), listener);
        AlarmBoard board = alarms.board();
        limits = new LimitAlarms(settings, board);
        flameAlarms = new FlameAlarms(fire, gas, channels, board);
        sensors = new SensorHealth(
                channels, board.get(AlarmId.CHAMBER_SENSOR_BAD), board.get(AlarmId.PRESSURE_SENSOR_BAD));
        silence = new Silence(channels, board.get(AlarmId.NO_DATA), settings.noDataAfterS());
        stream = new StreamEvents(forge, clock, alarms, listener);
        conditions = new Conditions(description, settings, this, listener);
    }
}
