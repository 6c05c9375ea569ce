package org.bankfire.daemon.acquire.frame;

/** Whether a line must end in its CRC. A CRC that is there is always checked. */
public enum ChecksumPolicy {
    REQUIRED,
    OPTIONAL
}
