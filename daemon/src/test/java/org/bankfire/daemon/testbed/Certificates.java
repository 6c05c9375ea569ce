package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.List;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;

/**
 * A certificate authority of a test's own, made by openssl.
 *
 * @param folder where its files are
 * @param name of the authority
 */
public record Certificates(Path folder, String name) {
    private static final String STORE_PASSWORD = "sesame";

    /** A server's certificate and its key, both PEM. */
    public record Server(Path certificate, Path key) {}

    /** Makes an authority. */
    public static Certificates authority(Path folder, String name) throws IOException, InterruptedException {
        Certificates made = new Certificates(folder, name);
        openssl(
                "req",
                "-x509",
                "-newkey",
                "rsa:2048",
                "-nodes",
                "-days",
                "2",
                "-subj",
                "/CN=" + name,
                "-keyout",
                made.file("key").toString(),
                "-out",
                made.caFile().toString());
        return made;
    }

    /** The authority's certificate, PEM. */
    public Path caFile() {
        return file("pem");
    }

    /** Makes a certificate for a server; {@code names} such as {@code IP:127.0.0.1,DNS:localhost}. */
    public Server server(String names) throws IOException, InterruptedException {
        Path key = file("server.key");
        Path request = file("server.csr");
        Path certificate = file("server.pem");
        Path extensions = file("server.ext");
        Files.writeString(extensions, "subjectAltName=" + names + "\n");
        openssl(
                "req",
                "-newkey",
                "rsa:2048",
                "-nodes",
                "-subj",
                "/CN=broker",
                "-keyout",
                key.toString(),
                "-out",
                request.toString());
        openssl(
                "x509",
                "-req",
                "-in",
                request.toString(),
                "-CA",
                caFile().toString(),
                "-CAkey",
                file("key").toString(),
                "-CAcreateserial",
                "-days",
                "2",
                "-extfile",
                extensions.toString(),
                "-out",
                certificate.toString());
        return new Server(certificate, key);
    }

    /** What a server in this process needs to use a certificate. */
    public SSLContext context(Server server) throws IOException, InterruptedException, GeneralSecurityException {
        Path store = file("p12");
        openssl(
                "pkcs12",
                "-export",
                "-in",
                server.certificate().toString(),
                "-inkey",
                server.key().toString(),
                "-out",
                store.toString(),
                "-passout",
                "pass:" + STORE_PASSWORD);
        KeyStore keys = KeyStore.getInstance(store.toFile(), STORE_PASSWORD.toCharArray());
        KeyManagerFactory managers = KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
        managers.init(keys, STORE_PASSWORD.toCharArray());
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(managers.getKeyManagers(), null, null);
        return context;
    }

    private Path file(String extension) {
        return folder.resolve(name + "." + extension);
    }

    private static void openssl(String... arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(arguments));
        command.add(0, Programs.find("openssl", "openssl").toString());
        Programs.run(command);
    }
}
