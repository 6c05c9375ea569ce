/**
 * What the store holds, as recorded burns: for the {@code export} command and for whoever takes a burn away from the
 * dashboard. Writing takes little memory, however long the burn was.
 */
@NullMarked
package org.bankfire.daemon.export;

import org.jspecify.annotations.NullMarked;
