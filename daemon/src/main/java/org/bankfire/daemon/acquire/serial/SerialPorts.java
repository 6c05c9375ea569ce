package org.bankfire.daemon.acquire.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** The serial ports of this machine. Pseudo-terminals are not among them. */
public final class SerialPorts {
    private static final Path STABLE_LINKS = Path.of("/dev/serial/by-id");

    private SerialPorts() {}

    /**
     * A port.
     *
     * @param name short name, such as {@code ttyUSB0}
     * @param path what to open, such as {@code /dev/ttyUSB0}
     * @param description what the device says of itself
     * @param stablePath a path that stays with the device whichever socket it is plugged into; null when there is none
     */
    public record Port(
            String name,
            String path,
            String description,
            @Nullable String stablePath) {}

    /** All ports, by name. */
    public static List<Port> list() {
        Map<Path, Path> stable = stableLinks(STABLE_LINKS);
        List<Port> ports = new ArrayList<>();
        for (SerialPort port : SerialPort.getCommPorts()) {
            String path = port.getSystemPortPath();
            ports.add(new Port(port.getSystemPortName(), path, description(port), stablePath(stable, path)));
        }
        ports.sort(Comparator.comparing(Port::name));
        return List.copyOf(ports);
    }

    /** Links in {@code folder} by the device that they lead to; none when there is no such folder. */
    static Map<Path, Path> stableLinks(Path folder) {
        Map<Path, Path> links = new HashMap<>();
        if (!Files.isDirectory(folder)) {
            return links;
        }
        try (Stream<Path> entries = Files.list(folder)) {
            for (Path link : entries.sorted().toList()) {
                if (Files.exists(link)) {
                    links.putIfAbsent(link.toRealPath(), link);
                }
            }
        } catch (IOException e) {
            return links; // a device pulled while we look: what was found is still true
        }
        return links;
    }

    private static @Nullable String stablePath(Map<Path, Path> links, String path) {
        Path link = links.isEmpty() ? null : links.get(Path.of(path)); // a Windows port need not be a legal path
        return link == null ? null : link.toString();
    }

    private static String description(SerialPort port) {
        String description = port.getPortDescription();
        String name = port.getDescriptivePortName();
        return description.isBlank() || description.equals(port.getSystemPortName()) ? name : description;
    }
}
