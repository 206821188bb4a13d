using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Acquire.Web.Security.Certificates;

namespace Acquire.Web.Tests.Security;

public sealed class CertificateTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-certificate-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2027, 2, 1, 18, 0, 0, TimeSpan.Zero));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private CertificateFiles Own => new(OwnCertificate.FileIn(_folder), OwnCertificate.KeyIn(_folder), null);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_made_certificate_stands_for_this_computer_for_two_years()
    {
        using var made = OwnCertificate.Make(_folder, OwnCertificate.NamesOfThisComputer(["bench.example", "192.0.2.20"]), false, _time);
        Assert.True(made.MatchesHostname("bench.example"));
        Assert.True(made.MatchesHostname("localhost"));
        Assert.True(made.MatchesHostname("127.0.0.1"));
        Assert.True(made.MatchesHostname("192.0.2.20"));
        Assert.False(made.MatchesHostname("evil.example"));
        Assert.Equal(new DateTime(2029, 2, 1, 18, 0, 0, DateTimeKind.Utc), made.NotAfter.ToUniversalTime());
        Assert.False(made.Extensions.OfType<X509BasicConstraintsExtension>().Single().CertificateAuthority);
        Assert.True(OperatingSystem.IsWindows() || File.GetUnixFileMode(Own.Key!) == (UnixFileMode.UserRead | UnixFileMode.UserWrite));
        Assert.Contains("bench.example", ServingCertificate.Read(Own, _time.GetUtcNow()).Names);
    }

    /// <summary>Source: RFC 5280 has no fingerprint; browsers and openssl take the digest of the whole DER encoding.</summary>
    [Fact]
    public void A_fingerprint_is_SHA_256_of_the_whole_certificate()
    {
        using var made = OwnCertificate.Make(_folder, ["localhost"], false, _time);
        var der = PemEncoding.Find(File.ReadAllText(Own.File)) is var found
            ? Convert.FromBase64String(File.ReadAllText(Own.File)[found.Base64Data]) : [];
        var digest = Convert.ToHexString(SHA256.HashData(der));
        Assert.Equal(digest, OwnCertificate.FingerprintOf(made).Replace(":", "", StringComparison.Ordinal));
        Assert.Matches("^([0-9A-F]{2}:){31}[0-9A-F]{2}$", OwnCertificate.FingerprintOf(made));
    }

    [Fact]
    public void One_that_is_there_gives_way_only_when_asked()
    {
        using var first = OwnCertificate.Make(_folder, ["localhost"], false, _time);
        Assert.Contains(
            "--force", Assert.Throws<BenchException>(() => OwnCertificate.Make(_folder, ["localhost"], false, _time)).Message,
            StringComparison.Ordinal);
        using var second = OwnCertificate.Make(_folder, ["localhost"], true, _time);
        Assert.NotEqual(first.Thumbprint, second.Thumbprint);
        Assert.Equal(second.Thumbprint, ServingCertificate.Read(Own, _time.GetUtcNow()).Certificate.Thumbprint);
    }

    [Theory]
    [InlineData("not a name")]
    [InlineData("http://bench.example")]
    [InlineData("bench.example:8443")]
    public void What_is_no_name_of_a_computer_is_refused(string name)
    {
        Assert.Throws<BenchException>(() => OwnCertificate.Make(_folder, [name], false, _time));
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void One_that_is_not_valid_now_is_refused_with_its_days()
    {
        OwnCertificate.Make(_folder, ["localhost"], false, _time).Dispose();
        var late = Assert.Throws<BenchException>(() => ServingCertificate.Read(Own, _time.GetUtcNow().AddYears(2)));
        Assert.Contains("2029-02-01", late.Message, StringComparison.Ordinal);
        Assert.Throws<BenchException>(() => ServingCertificate.Read(Own, _time.GetUtcNow().AddDays(-1)));
    }

    [Fact]
    public async Task Keys_under_a_password_and_PKCS_12_serve_too()
    {
        using var made = OwnCertificate.Make(_folder, ["localhost"], false, _time);
        using var key = ECDsa.Create();
        key.ImportFromPem(await File.ReadAllTextAsync(Own.Key!, Token));
        var (pem, pfx, password) = (Path.Combine(_folder, "k.pem"), Path.Combine(_folder, "c.pfx"), Path.Combine(_folder, "p.txt"));
        await File.WriteAllTextAsync(password, "a word of its own\nand another line\n", Token);
        var parameters = new PbeParameters(PbeEncryptionAlgorithm.Aes256Cbc, HashAlgorithmName.SHA256, 1_000);
        await File.WriteAllTextAsync(pem, key.ExportEncryptedPkcs8PrivateKeyPem("a word of its own", parameters), Token);
        using var whole =
            made.HasPrivateKey ? X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null) : made.CopyWithPrivateKey(key);
        await File.WriteAllBytesAsync(pfx, whole.Export(X509ContentType.Pkcs12, "a word of its own"), Token);

        foreach (var files in new CertificateFiles[] { new(Own.File, pem, password), new(pfx, null, password) })
        {
            var read = ServingCertificate.Read(files, _time.GetUtcNow());
            Assert.Equal((made.Thumbprint, true), (read.Certificate.Thumbprint, read.Certificate.HasPrivateKey));
            Assert.Empty(read.Chain);
        }

        Assert.Contains(
            "--password-from",
            Assert.Throws<BenchException>(() => ServingCertificate.Read(new(pfx, null, null), _time.GetUtcNow())).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_serve_is_refused_with_what_was_expected()
    {
        OwnCertificate.Make(_folder, ["localhost"], false, _time).Dispose();
        var (other, junk) = (Path.Combine(_folder, "other.pem"), Path.Combine(_folder, "junk"));
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        await File.WriteAllTextAsync(other, key.ExportPkcs8PrivateKeyPem(), Token);
        await File.WriteAllTextAsync(junk, "nothing of the kind", Token);
        var gone = Path.Combine(_folder, "gone");
        CertificateFiles[] wrong =
        [
            new(Own.File, other, null), new(Own.File, null, null), new(junk, null, null), new(gone, null, null),
            new(Own.File, Own.Key, gone), new(Own.File, junk, null),
        ];
        foreach (var files in wrong)
        {
            var fault = Assert.Throws<BenchException>(() => ServingCertificate.Read(files, _time.GetUtcNow()));
            Assert.Contains("PEM", fault.Message, StringComparison.Ordinal);
        }
    }
}
