package org.bankfire.daemon.acquire.serial;

import org.bankfire.daemon.acquire.frame.FrameFormat;

/**
 * One serial line.
 *
 * @param port device path or name, such as {@code /dev/ttyUSB0} or {@code COM3}
 * @param baud bits per second, 300 to 4,000,000
 * @param format how its lines are written
 */
public record SerialSettings(String port, int baud, FrameFormat format) {}
