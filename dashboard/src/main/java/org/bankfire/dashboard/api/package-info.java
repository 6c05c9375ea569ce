/**
 * The HTTP API, one handler class a resource, and the table of its routes. Bad requests are answered in JSON that names
 * the field, its value and what is allowed.
 */
@NullMarked
package org.bankfire.dashboard.api;

import org.jspecify.annotations.NullMarked;
