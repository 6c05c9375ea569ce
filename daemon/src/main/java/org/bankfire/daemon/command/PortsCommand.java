package org.bankfire.daemon.command;

import java.io.PrintStream;
import java.util.List;
import java.util.concurrent.Callable;
import org.bankfire.daemon.acquire.serial.SerialPorts;
import picocli.CommandLine.Command;

/** Lists the serial ports. */
@Command(name = "ports", description = "Lists the serial ports with their descriptions.")
public final class PortsCommand implements Callable<Integer> {
    @Override
    public Integer call() {
        PrintStream out = System.out;
        List<SerialPorts.Port> ports = SerialPorts.list();
        if (ports.isEmpty()) {
            System.err.println("No serial port found. Is the board plugged in, and its cable one that carries data?");
        }
        for (SerialPorts.Port port : ports) {
            out.println(port.path() + "\t" + port.description());
        }
        return ExitCodes.DONE;
    }
}
