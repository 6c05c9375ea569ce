/** Beats for the page: a browser slows the page's own timers to one a minute in the background, but not a worker's. */
setInterval(() => postMessage(0), 500);
