package org.bankfire.daemon.testbed;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/** A real headless Chromium. */
public final class PageBrowser implements AutoCloseable {
    /** For what takes a browser a moment, on a machine that has much else to do. */
    private static final double PATIENCE_MS = 120_000;

    private final Playwright playwright;
    private final Browser browser;

    /** Starts the browser of the Debian package. */
    public PageBrowser() {
        Path chromium = Programs.find("chromium", "chromium");
        playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setExecutablePath(chromium)
                        .setTimeout(PATIENCE_MS)
                        .setArgs(List.of(
                                "--no-sandbox",
                                "--disable-gpu",
                                "--disable-quic",
                                "--no-first-run",
                                "--disable-background-networking",
                                "--disable-component-update",
                                "--disable-sync")));
    }

    /** Opens an address in a window of that size. */
    public Page open(String address, int width, int height) {
        Page page = browser.newPage(new Browser.NewPageOptions().setViewportSize(width, height));
        page.setDefaultTimeout(PATIENCE_MS);
        page.navigate(address);
        return page;
    }

    @Override
    public void close() {
        browser.close();
        playwright.close();
    }
}
