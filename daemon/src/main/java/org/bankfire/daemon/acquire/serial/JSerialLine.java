package org.bankfire.daemon.acquire.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** A line through jSerialComm: 8 data bits, no parity, one stop bit, no flow control. */
final class JSerialLine implements SerialLine {
    private static final boolean WINDOWS =
            System.getProperty("os.name", "").toLowerCase(Locale.ROOT).startsWith("windows");
    private static final int ENOENT = 2;
    private static final int READ_TIMEOUT_MS = 200;

    /** Silence after which the device is looked at: some drivers report an unplug as silence. One second. */
    private static final int SILENT_READS = 5;

    private final SerialPort port;
    private final @Nullable Path path;
    private final @Nullable Path device;
    private int silentReads;

    private JSerialLine(SerialPort port, @Nullable Path path, @Nullable Path device) {
        this.port = port;
        this.path = path;
        this.device = device;
    }

    static SerialLine open(SerialSettings settings) throws SerialFaultException {
        String name = settings.port();
        Path path = !WINDOWS && name.startsWith("/") ? Path.of(name) : null;
        Path device = path == null ? null : realPath(path);
        if (path != null && device == null) {
            // jSerialComm would look for a device of the same last name elsewhere, and might open the wrong one.
            throw SerialFaultException.missing(name);
        }
        SerialPort port;
        try {
            port = SerialPort.getCommPort(device == null ? name : device.toString());
        } catch (SerialPortInvalidPortException e) {
            throw SerialFaultException.missing(name);
        }
        port.setComPortParameters(settings.baud(), 8, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
        port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
        port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_TIMEOUT_MS, 0);
        if (!port.openPort(0)) {
            int code = port.getLastErrorCode();
            if (code == ENOENT && path != null && device != null && device.equals(realPath(path))) {
                // It is there: so jSerialComm refuses what this process has open already.
                throw new SerialFaultException(name + ": already open here; is the port named twice?");
            }
            throw SerialFaultException.of(name, code, WINDOWS);
        }
        return new JSerialLine(port, path, device);
    }

    @Override
    public int read(byte[] buffer) {
        int count = port.readBytes(buffer, buffer.length);
        if (count > 0) {
            silentReads = 0;
            return count;
        }
        if (count < 0) {
            return LOST;
        }
        silentReads++;
        if (silentReads < SILENT_READS) {
            return 0;
        }
        silentReads = 0;
        return sameDevice() ? 0 : LOST;
    }

    @Override
    public void close() {
        port.closePort();
    }

    /** Whether the path still leads to the device that was opened. */
    private boolean sameDevice() {
        return path == null || device == null || device.equals(realPath(path));
    }

    private static @Nullable Path realPath(Path path) {
        try {
            return Files.exists(path) ? path.toRealPath() : null;
        } catch (IOException e) {
            return null;
        }
    }
}
