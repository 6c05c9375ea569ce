/**
 * The page's files, served from the class path under an address that changes with their content.
 */
@NullMarked
package org.bankfire.dashboard.page;

import org.jspecify.annotations.NullMarked;
