package org.bankfire.daemon.ledger;

import org.bankfire.analysis.monitor.ForgeListener;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;

/** Where a {@link Pipeline} sends what passes through it, in order and on the pipeline's thread. */
public interface PipelineOutput extends ForgeListener {
    /** A reading to keep: raw as received, or corrected. */
    void onReading(Reading reading);

    /** A note to keep. */
    void onNote(Note note);

    /** A setting to keep. */
    @Override
    void onSetting(Setting setting);
}
