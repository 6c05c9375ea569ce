package org.bankfire.dashboard.source;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.monitor.MonitorSettings;

/**
 * What the page needs to know of a forge that does not change while the daemon runs.
 *
 * @param description as its builder gave it
 * @param settings the limits in force
 * @param currency what {@link MonitorSettings#gasPricePerKg()} is in, such as {@code EUR}; empty when not told
 */
public record ForgeFace(ForgeDescription description, MonitorSettings settings, String currency) {}
