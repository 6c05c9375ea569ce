package org.bankfire.daemon.acquire.serial;

/** A port that can't be opened. The message says why in words, and what to do. */
final class SerialFaultException extends Exception {
    private static final long serialVersionUID = 1L;

    SerialFaultException(String message) {
        super(message);
    }

    /**
     * Words for a failed opening.
     *
     * @param code errno on Linux and macOS, system error code on Windows; as jSerialComm hands it on
     */
    static SerialFaultException of(String port, int code, boolean windows) {
        return new SerialFaultException(port + (windows ? windowsWords(code) : posixWords(code)));
    }

    static SerialFaultException missing(String port) {
        return new SerialFaultException(port + ": no such port; is it plugged in?");
    }

    // Numbers of errno.h of Linux; EAGAIN is 35 on macOS.
    private static String posixWords(int code) {
        return switch (code) {
            case 2, 6, 19 -> ": no such port; is it plugged in?"; // ENOENT, ENXIO, ENODEV
            case 1, 13 -> // EPERM, EACCES
                ": permission denied; add the user to the group dialout (usermod -aG dialout USER) and log in again";
            case 11, 16, 35 -> ": in use by another program"; // EAGAIN and EBUSY: somebody holds the lock
            case 22 -> ": the port refuses this baud rate"; // EINVAL
            case 5, 25 -> ": not a serial port, or no device behind it"; // EIO, ENOTTY
            default -> ": can't be opened, system error " + code;
        };
    }

    // System error codes of Windows: ERROR_FILE_NOT_FOUND, ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION.
    private static String windowsWords(int code) {
        return switch (code) {
            case 2, 3 -> ": no such port; is it plugged in?";
            case 5, 32 -> ": in use by another program";
            default -> ": can't be opened, system error " + code;
        };
    }
}
