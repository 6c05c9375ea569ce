package org.bankfire.dashboard.testing;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.ReducedMotion;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** A headless Chromium, and what its pages asked for and complained of. */
public final class Browser implements AutoCloseable {
    /** Until a page that never comes to what is awaited has failed; for one that does nobody waits longer. */
    public static final Duration PATIENCE = Duration.ofMinutes(1);

    private static final double PATIENCE_MS = PATIENCE.toMillis();
    // Further than a slow machine gets before the clock of a page stands still.
    private static final double AHEAD_MS = 60_000;

    private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
    private static final List<String> ARGUMENTS = List.of(
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync");

    static {
        PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE_MS);
    }

    private final Playwright playwright = Playwright.create();
    private final com.microsoft.playwright.Browser browser = playwright
            .chromium()
            .launch(new BrowserType.LaunchOptions()
                    .setExecutablePath(CHROMIUM)
                    .setArgs(ARGUMENTS)
                    .setTimeout(PATIENCE_MS));
    private final List<String> requests = new CopyOnWriteArrayList<>();
    private final List<String> complaints = new CopyOnWriteArrayList<>();

    /** A fresh visitor's page. */
    public Page page(int width, int height, ColorScheme scheme) {
        BrowserContext context = browser.newContext(new com.microsoft.playwright.Browser.NewContextOptions()
                .setViewportSize(width, height)
                .setColorScheme(scheme)
                .setReducedMotion(ReducedMotion.REDUCE)
                .setLocale("en-GB")
                .setTimezoneId("Europe/Oslo"));
        context.setDefaultTimeout(PATIENCE_MS);
        Page page = context.newPage();
        page.onRequest(request -> requests.add(request.url()));
        page.onConsoleMessage(message -> {
            if (message.type().equals("error") || message.type().equals("warning")) {
                complaints.add(message.text());
            }
        });
        page.onPageError(complaints::add);
        return page;
    }

    /** A visitor's page that has read the cautions. */
    public Page readPage(int width, int height, ColorScheme scheme) {
        Page page = page(width, height, scheme);
        page.addInitScript("localStorage.setItem('bankfire.cautions.read', '1')");
        return page;
    }

    /**
     * Stops a page's clock, which must have been installed: none of its timers runs until it is let go again. The page
     * believes that it was asleep for a minute and asks anew.
     */
    public static void stopClock(Page page) {
        double nowMs = ((Number) page.evaluate("Date.now()")).doubleValue();
        page.clock().pauseAt((long) (nowMs + AHEAD_MS));
    }

    /** Addresses that were asked for so far. */
    public List<String> requests() {
        return List.copyOf(requests);
    }

    /** Errors and warnings of the console, and exceptions that nobody caught, so far. */
    public List<String> complaints() {
        return List.copyOf(complaints);
    }

    /** Where pictures for review go. */
    public static Path picture(String name) {
        return Path.of("target", "screenshots", name + ".png");
    }

    @Override
    public void close() {
        browser.close();
        playwright.close();
    }
}
