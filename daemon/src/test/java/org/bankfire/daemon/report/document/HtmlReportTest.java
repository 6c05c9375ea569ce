package org.bankfire.daemon.report.document;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.bankfire.daemon.report.document.ReportContent.Figure;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Document;
import org.w3c.dom.NodeList;

/** The printable page: well-formed, whole, and safe whatever people wrote. */
final class HtmlReportTest {
    private static Document parsed(ReportContent content) throws Exception {
        return DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(HtmlReport.of(content)));
    }

    private static List<String> hostile() {
        return Samples.HOSTILE;
    }

    @ParameterizedTest
    @MethodSource("hostile")
    void whateverSomebodyWroteIsTextAndNothingElse(String text) throws Exception {
        Document page = parsed(Samples.saying(text));
        String shown = page.getDocumentElement().getTextContent();
        String expected = SafeText.of(text);
        // Once in each kind of block, and once in the title beside the heading.
        assertThat(shown.split(java.util.regex.Pattern.quote(expected), -1).length - 1)
                .isGreaterThanOrEqualTo(Samples.TIMES);
        for (String element : List.of("script", "img", "b1", "iframe", "link", "a")) {
            assertThat(page.getElementsByTagName(element).getLength())
                    .as(element)
                    .isZero();
        }
    }

    @Test
    void itIsOneFileThatFetchesNothing() throws Exception {
        String page = new String(HtmlReport.of(Samples.saying("plain")), StandardCharsets.UTF_8);
        assertThat(page).startsWith("<!DOCTYPE html>");
        assertThat(page.replace("http://www.w3.org/2000/svg", ""))
                .doesNotContain("http:", "https:", "src=", "href=", "url(", "@import", "<script")
                .doesNotContainPattern("\\son\\w+=");
    }

    @Test
    void everyChartHasATitleADescriptionAndACaption() throws Exception {
        ReportContent content = Samples.saying("plain");
        Document page = parsed(content);
        NodeList charts = page.getElementsByTagName("svg");
        long figures = content.sections().stream()
                .flatMap(section -> section.blocks().stream())
                .filter(Figure.class::isInstance)
                .count();
        assertThat(charts.getLength()).isEqualTo((int) figures).isPositive();
        for (int i = 0; i < charts.getLength(); i++) {
            assertThat(charts.item(i).getFirstChild().getTextContent()).isNotBlank();
            assertThat(charts.item(i).getParentNode().getLastChild().getNodeName())
                    .isEqualTo("figcaption");
        }
    }
}
