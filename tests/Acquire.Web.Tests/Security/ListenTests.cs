using System.Net;
using System.Net.NetworkInformation;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;
using Acquire.Web.Hosting;
using Acquire.Web.Security.Certificates;
using Acquire.Web.Security.Tokens;

namespace Acquire.Web.Tests.Security;

public sealed class ListenTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-listen-").FullName;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("192.0.2.20", "acquire serve cert")]
    [InlineData("0.0.0.0:8443", "acquire serve cert")]
    [InlineData("[::]:8443", "acquire serve cert")]
    [InlineData("2001:db8::1", "acquire serve cert")]
    [InlineData("darkroom", "in numbers")]
    [InlineData("192.0.2.20:99999", "in numbers")]
    [InlineData("", "in numbers")]
    public async Task Beyond_this_computer_takes_a_certificate_and_an_address(string listen, string told)
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => StartAsync(options => options.Listen = [listen]));
        Assert.Contains(told, fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("http://0.0.0.0:0", "--listen")]
    [InlineData("http://192.0.2.20:80", "--listen")]
    [InlineData("http://[::]:0", "--listen")]
    [InlineData("https://192.0.2.20:443", "acquire serve cert")]
    [InlineData("https://127.0.0.1:0", "acquire serve cert")]
    [InlineData("http://darkroom.example:80", "in numbers")]
    [InlineData("http://127.0.0.1:0/path", "no URL")]
    [InlineData("ftp://127.0.0.1", "no URL")]
    [InlineData("127.0.0.1:80", "no URL")]
    public async Task A_url_beyond_this_computer_is_refused_the_same_way(string url, string told)
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => StartAsync(options => options.Url = url));
        Assert.Contains(told, fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_a_certificate_it_still_takes_a_token()
    {
        Make();
        var fault = await Assert.ThrowsAsync<BenchException>(() => StartAsync(options => options.Listen = ["0.0.0.0:0"]));
        Assert.Contains("acquire token add", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_made_certificate_carries_TLS_to_whoever_trusts_it()
    {
        var made = Make();
        var token = await AddTokenAsync(TokenRole.Read);
        await using var service = await StartAsync(options => options.Listen = ["127.0.0.1:0", "0.0.0.0:0"]);
        var secure = new Uri(ServiceHost.UrlsOf(service.App)[2]);
        Assert.Equal("https", secure.Scheme);
        using var client = Trusting(made, $"https://localhost:{secure.Port}", token);
        var answer = await client.GetAsync("/api/v1/service", Token);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.StartsWith("max-age=", answer.Headers.GetValues("Strict-Transport-Security").Single(), StringComparison.Ordinal);

        using var trustsNobody = new HttpClient { BaseAddress = new Uri($"https://localhost:{secure.Port}") };
        await Assert.ThrowsAsync<HttpRequestException>(() => trustsNobody.GetAsync("/health/live", Token));
    }

    [Theory]
    [InlineData(SslProtocols.Tls12, true)]
    [InlineData(SslProtocols.Tls13, true)]
#pragma warning disable CA5397, CS0618, SYSLIB0039 // To prove that it is refused.
    [InlineData(SslProtocols.Tls11, false)]
#pragma warning restore CA5397, CS0618, SYSLIB0039
    public async Task Old_versions_of_TLS_are_refused(SslProtocols version, bool taken)
    {
        Make();
        await AddTokenAsync(TokenRole.Read);
        await using var service = await StartAsync(options => options.Listen = ["0.0.0.0:0"]);
        using var tcp = new TcpClient();
        await tcp.ConnectAsync(IPAddress.Loopback, new Uri(ServiceHost.UrlsOf(service.App)[1]).Port, Token);
        await using var tls = new SslStream(tcp.GetStream());
        var shake = tls.AuthenticateAsClientAsync(
            new SslClientAuthenticationOptions
            {
                TargetHost = "localhost",
                EnabledSslProtocols = version,
#pragma warning disable CA5359 // Who it is does not matter here, only how they speak.
                RemoteCertificateValidationCallback = (_, _, _, _) => true,
#pragma warning restore CA5359
            },
            Token);
        if (taken)
        {
            await shake;
            Assert.Equal(version, tls.SslProtocol);
        }
        else
        {
            await Assert.ThrowsAnyAsync<Exception>(() => shake);
        }
    }

    [Fact]
    public async Task Plain_HTTP_is_not_answered_where_TLS_is_due()
    {
        Make();
        await AddTokenAsync(TokenRole.Read);
        await using var service = await StartAsync(options => options.Listen = ["0.0.0.0:0"]);
        var port = new Uri(ServiceHost.UrlsOf(service.App)[1]).Port;
        var answer = await RawHttp.AskAsync(
            new Uri($"http://127.0.0.1:{port}"), "GET /health/live HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n", Token);
        Assert.DoesNotContain("alive", answer, StringComparison.Ordinal);
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task Whoever_connects_and_does_not_begin_TLS_is_cut_off()
    {
        Make();
        await AddTokenAsync(TokenRole.Read);
        await using var service = await StartAsync(options => options.Listen = ["0.0.0.0:0"]);
        using var raw = await RawHttp.ConnectAsync(new Uri($"http://127.0.0.1:{new Uri(ServiceHost.UrlsOf(service.App)[1]).Port}"), Token);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(Token);
        end.CancelAfter(TimeSpan.FromSeconds(30));
        Assert.Equal("", await raw.RestAsync(end.Token));
    }

    /// <summary>What stands in the file of the data folder opens this computer alone.</summary>
    [Fact]
    public async Task The_services_own_token_opens_nothing_from_elsewhere()
    {
        if (OtherAddress() is not { } address)
        {
            Assert.Skip("This computer has no address but loopback.");
            return;
        }

        var made = Make();
        var token = await AddTokenAsync(TokenRole.Read);
        await using var service = await StartAsync(options => options.Listen = [$"{address}:0"]);
        var secure = ServiceHost.UrlsOf(service.App)[1];
        using var given = Trusting(made, secure, token);
        Assert.Equal(HttpStatusCode.OK, (await given.GetAsync("/api/v1/service", Token)).StatusCode);
        using var own = Trusting(made, secure, RunningService.Token);
        Assert.Equal(HttpStatusCode.Unauthorized, (await own.GetAsync("/api/v1/service", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await service.Client.GetAsync("/api/v1/service", Token)).StatusCode);
    }

    [Fact]
    public async Task The_socket_is_the_users_own_and_asks_for_the_token_too()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "There is no socket in the file system.");
        await using var service = await StartAsync(_ => { });
        var file = ServiceHost.FileOf(service.App, RunningService.Token);
        Assert.Equal(Path.Combine(_folder, "service.sock"), file.Socket);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(_folder));
        }

        // The URL leads nowhere, so that only the socket can answer.
        using var client = ServiceConnection.Open(file with { Url = "http://127.0.0.1:1" });
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/v1/service", Token)).StatusCode);
        using var stranger = ServiceConnection.Open(file with { Token = RandomSecret.New() });
        Assert.Equal(HttpStatusCode.Unauthorized, (await stranger.GetAsync("/api/v1/service", Token)).StatusCode);
        using var overLoopback = ServiceConnection.Open(file with { Socket = null });
        Assert.Equal(HttpStatusCode.OK, (await overLoopback.GetAsync("/api/v1/service", Token)).StatusCode);
    }

    [Fact]
    public async Task A_socket_that_a_killed_service_left_behind_is_no_obstacle()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "There is no socket in the file system.");
        var path = ListenPoint.SocketIn(_folder)!;
        await File.WriteAllTextAsync(path, "", Token);
        await using var service = await StartAsync(_ => { });
        using var client = ServiceConnection.Open(ServiceHost.FileOf(service.App, RunningService.Token));
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/v1/service", Token)).StatusCode);
    }

    [Fact]
    public void A_folder_too_deep_for_a_socket_has_none() =>
        Assert.Null(ListenPoint.SocketIn(Path.Combine("/home", new string('d', 90), "acquire")));

    internal static HttpClient Trusting(X509Certificate2 certificate, string address, string token)
    {
        var trust = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        trust.CustomTrustStore.Add(X509CertificateLoader.LoadCertificate(certificate.RawData));
        var handler = new SocketsHttpHandler { SslOptions = new SslClientAuthenticationOptions { CertificateChainPolicy = trust } };
        var client = new HttpClient(handler) { BaseAddress = new Uri(address) };
        client.DefaultRequestHeaders.Authorization = new("Bearer", token);
        return client;
    }

    private static string? OtherAddress() => NetworkInterface.GetAllNetworkInterfaces()
        .Where(i => i.OperationalStatus == OperationalStatus.Up)
        .SelectMany(i => i.GetIPProperties().UnicastAddresses)
        .Select(a => a.Address)
        .FirstOrDefault(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a))?.ToString();

    private X509Certificate2 Make() =>
        OwnCertificate.Make(_folder, OwnCertificate.NamesOfThisComputer([]), replace: false, TimeProvider.System);

    private async Task<string> AddTokenAsync(TokenRole role) =>
        (await new TokenBook(_folder, TimeProvider.System).AddAsync("evening class", role, 1, Token)).Token;

    private Task<RunningService> StartAsync(Action<ServiceOptions> options) => RunningService.StartAsync(Token, options, within: _folder);
}
