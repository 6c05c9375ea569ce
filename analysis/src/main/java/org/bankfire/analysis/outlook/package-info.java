/**
 * What lies ahead of a burn that is going on: where the chamber settles, what pressure holds it, what that costs, and how
 * well earlier forecasts did. All of it comes from forges that agree with what was measured so far.
 */
@NullMarked
package org.bankfire.analysis.outlook;

import org.jspecify.annotations.NullMarked;
