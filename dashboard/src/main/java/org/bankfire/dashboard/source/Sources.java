package org.bankfire.dashboard.source;

/**
 * All that the dashboard reads, and whom it asks.
 *
 * @param feed the forges as they are now
 * @param series the stored series
 * @param logBook notes, settings, burns and the alarm journal
 * @param fits what burns told
 * @param reports of burns, and burns to take away
 * @param outlook what lies ahead of those that go on
 * @param trials what settings changed
 * @param whatIf what a changed forge would do
 * @param controls what users ask for
 * @param outputs where else alarms go
 * @param health how the daemon is
 */
public record Sources(
        ForgeFeed feed,
        SeriesArchive series,
        LogBook logBook,
        FitBook fits,
        ReportBook reports,
        OutlookBook outlook,
        TrialBook trials,
        WhatIf whatIf,
        ForgeControls controls,
        OutputBook outputs,
        DaemonHealth.Probe health) {}
