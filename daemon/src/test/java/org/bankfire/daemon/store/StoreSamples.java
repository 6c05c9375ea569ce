package org.bankfire.daemon.store;

import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/** Numbered things to store. */
final class StoreSamples {
    private static final Channel CHAMBER = new Channel("shed", "chamber");

    private StoreSamples() {}

    static Reading reading(int number) {
        return Reading.good(CHAMBER, number, Unit.CELSIUS, new WallTime(number), new WallTime(number));
    }

    static Note note(int number) {
        return new Note("shed", new WallTime(number), Note.REMARK, "note " + number);
    }

    static AlarmTransition transition(int number) {
        return new AlarmTransition(
                "shed",
                new WallTime(number),
                AlarmId.FLAME_OUT,
                AlarmState.UNACKNOWLEDGED,
                Priority.CRITICAL,
                Double.NaN,
                "flame lost");
    }

    static Burn burn(String id, double gasUsedKg) {
        return new Burn(id, "shed", new WallTime(0), null, gasUsedKg, 900);
    }
}
