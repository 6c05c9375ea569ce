package org.bankfire.dashboard.access;

import io.javalin.http.Context;
import io.javalin.http.Handler;
import io.javalin.http.HandlerType;
import java.util.Locale;
import java.util.regex.Pattern;
import org.bankfire.dashboard.api.ApiException;
import org.jspecify.annotations.Nullable;

/**
 * Stands before every request. A page of a stranger that the user has open must neither read the forge (DNS rebinding:
 * its own host name pointed at this machine) nor write to it (a form or script posting across origins).
 */
public final class RequestGuard implements Handler {
    /** Everything that the page needs comes from this server; nothing may frame it. */
    public static final String CONTENT_SECURITY_POLICY =
            "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'";

    private static final Pattern LOOPBACK_V4 = Pattern.compile("127(\\.\\d{1,3}){3}");

    private final String ownHost;

    /** A guard for a server that listens on {@code ownHost}. */
    public RequestGuard(String ownHost) {
        this.ownHost = ownHost.toLowerCase(Locale.ROOT);
    }

    @Override
    public void handle(Context ctx) {
        ctx.header("Content-Security-Policy", CONTENT_SECURITY_POLICY);
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("Referrer-Policy", "no-referrer");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        // What the API says is true only now; the page's files set their own rule.
        ctx.header("Cache-Control", "no-store");
        String host = ctx.header("Host");
        if (host == null || !isOwnName(nameOf(host))) {
            throw new ApiException(
                    403,
                    "this server is not asked for by the name \"" + host + "\"",
                    "Host",
                    String.valueOf(host),
                    "localhost, 127.0.0.1 or [::1]");
        }
        if (!ctx.method().equals(HandlerType.GET) && !ctx.method().equals(HandlerType.HEAD)) {
            refuseOtherOrigins(ctx, host);
        }
    }

    private static void refuseOtherOrigins(Context ctx, String host) {
        String origin = ctx.header("Origin");
        if (origin != null && !isSameOrigin(origin, host)) {
            throw new ApiException(
                    403, "a page of another origin may not write here", "Origin", origin, "http://" + host);
        }
        // Browsers that leave out Origin say at least this; programs that are not browsers say neither.
        String site = ctx.header("Sec-Fetch-Site");
        if (origin == null && site != null && !site.equals("same-origin") && !site.equals("none")) {
            throw new ApiException(
                    403, "a page of another origin may not write here", "Sec-Fetch-Site", site, "same-origin");
        }
    }

    private static boolean isSameOrigin(String origin, String host) {
        return origin.equalsIgnoreCase("http://" + host) || origin.equalsIgnoreCase("https://" + host);
    }

    // The port is left out of the check: a tunnel from another port of the same machine is the user's own doing.
    private boolean isOwnName(@Nullable String name) {
        return name != null
                && (name.equals("localhost")
                        || name.equals("::1")
                        || name.equals(ownHost)
                        || LOOPBACK_V4.matcher(name).matches());
    }

    private static @Nullable String nameOf(String host) {
        String lower = host.toLowerCase(Locale.ROOT);
        if (lower.startsWith("[")) {
            int end = lower.indexOf(']');
            return end < 0 ? null : lower.substring(1, end);
        }
        int colon = lower.indexOf(':');
        return colon < 0 ? lower : lower.substring(0, colon);
    }
}
