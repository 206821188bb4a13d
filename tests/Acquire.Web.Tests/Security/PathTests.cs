using System.Net.Http.Json;
using System.Reflection;
using System.Text.RegularExpressions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Web.Security;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Acquire.Web.Tests.Security;

/// <summary>No path from a request reaches the file system unchecked.</summary>
public partial class PathTests
{
    private static readonly string Api = Path.Combine(Root(), "src", "Acquire.Web", "Api");

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>Who maps requests has no business with files: that is the store's, the libraries' and the host's.</summary>
    [Fact]
    public void What_maps_requests_touches_no_file()
    {
        // What a request brings as a file is received into a folder and under a name of the service's own.
        var sources = Directory.GetFiles(Api, "*.cs", SearchOption.AllDirectories).Where(f => Path.GetFileName(f) != "Upload.cs").ToList();
        Assert.NotEmpty(sources);
        var touched =
            from file in sources
            from line in File.ReadLines(file)
            where FileSystem().IsMatch(line)
            select $"{Path.GetFileName(file)}: {line.Trim()}";
        Assert.Empty(touched);
    }

    [Theory]
    [InlineData("File.ReadAllText(path)")]
    [InlineData("new FileStream(path)")]
    [InlineData("Results.File(path)")]
    [InlineData("Path.Combine(a, b)")]
    [InlineData("using var reader = new StreamReader(name);")]
    public void The_look_for_files_finds_them(string line) => Assert.Matches(FileSystem(), line);

    [Fact]
    public async Task No_route_takes_a_path()
    {
        await using var service = await RunningService.StartAsync(Token);
        var services = service.App.Services.GetRequiredService<IServiceProviderIsService>();
        var taken =
            from endpoint in service.App.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            let asked = endpoint.RoutePattern.Parameters.Select(p => p.Name).Concat(NamesTaken(endpoint, services))
            from name in asked
            where TellsOfFiles().IsMatch(name)
            select $"{endpoint.RoutePattern.RawText} takes {name}";
        Assert.Empty(taken);
    }

    [Theory]
    [InlineData("GET", "/../../etc/passwd")]
    [InlineData("GET", "/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("GET", "/api/v1/..%2f..%2fservice.json")]
    [InlineData("GET", "/service.json")]
    [InlineData("GET", "/service-key.pem")]
    [InlineData("GET", "/enter/..%2f..%2fservice.json")]
    [InlineData("GET", "/%00")]
    [InlineData("GET", "//etc/passwd")]
    public async Task Paths_lead_to_no_file(string method, string path)
    {
        await using var service = await RunningService.StartAsync(Token);
        var answer = await RawHttp.AskAsync(
            service.Address,
            $"{method} {path} HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {RunningService.Token}\r\nConnection: close\r\n\r\n",
            Token);
        Assert.Matches("^HTTP/1.1 4[0-9][0-9] ", answer);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
        Assert.DoesNotContain(RunningService.Token, answer, StringComparison.Ordinal);
    }

    /// <summary>A file that is no profile would be shown in the message of what is wrong with it.</summary>
    [Theory]
    [InlineData("/etc/passwd")]
    [InlineData("../service.json")]
    [InlineData("service.json")]
    [InlineData(@"..\service.json")]
    public async Task A_profile_that_a_request_names_is_no_file(string name)
    {
        await using var service = await RunningService.StartAsync(Token);
        await File.WriteAllTextAsync(Path.Combine(service.Folder, "service.json"), "{\"token\":\"a secret\"}", Token);
        var fault = Assert.Throws<ProfileException>(() => service.App.Services.GetRequiredService<ProfileLibrary>().Named(name));
        Assert.DoesNotContain("secret", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/dev/ttyUSB0", true)]
    [InlineData("tcp:192.0.2.20:4001", true)]
    [InlineData("/dev/watchdog", false)]
    [InlineData("/dev/../dev/ttyUSB0", false)]
    [InlineData("/etc/passwd", false)]
    [InlineData("serial:/etc/passwd", false)]
    [InlineData("/dev/pts/0", false)]
    public void A_token_that_was_given_out_names_only_ports_that_are_listed(string port, bool taken)
    {
        string[] listed = ["/dev/ttyUSB0", "/dev/serial/by-id/usb-adapter-port0"];
        if (taken)
        {
            Assert.Equal(LinkAddress.Parse(port), GivenPort.Read(port, isOwner: false, () => listed));
        }
        else
        {
            Assert.Throws<BenchException>(() => GivenPort.Read(port, isOwner: false, () => listed));
        }

        Assert.Equal(LinkAddress.Parse(port), GivenPort.Read(port, isOwner: true, () => listed));
    }

    [Theory]
    [InlineData("/dev/watchdog", 422, 200)]
    [InlineData("/dev/pts/0", 422, 200)]
    [InlineData("tcp:192.0.2.20:4221", 200, 200)]
    [InlineData("tcp:no port", 422, 422)]
    [InlineData("", 200, 200)]
    public async Task A_port_in_a_body_or_a_query_is_looked_at_before_the_route_has_it(string port, int given, int own)
    {
        await using var service = await RunningService.StartAsync(Token, more: app =>
        {
            var api = app.MapGroup("/test").Guarded();
            api.MapPost("/body", (Wired said) => said.Port ?? "");
            api.MapGet("/query", (string? port) => port ?? "");
        });
        using var tablet = service.With(await RoleTests.AddAsync(service, "bench tablet", Web.Security.Tokens.TokenRole.Operate));
        foreach (var (client, status) in new[] { (tablet, given), (service.Client, own) })
        {
            Assert.Equal(status, (int)(await client.PostAsJsonAsync("/test/body", new Wired(port), Token)).StatusCode);
            Assert.Equal(status, (int)(await client.GetAsync($"/test/query?port={Uri.EscapeDataString(port)}", Token)).StatusCode);
        }
    }

    [Theory]
    [InlineData("/dev/watchdog", "labelled-line", "no port that the service's computer lists")]
    [InlineData("tcp:192.0.2.20:4001", "/etc/passwd", "no such profile")]
    [InlineData("tcp:192.0.2.20:4001", "../service.json", "no such profile")]
    public async Task An_instrument_that_is_added_from_elsewhere_leads_to_no_file(string port, string profile, string told)
    {
        await using var service = await RunningService.StartAsync(Token);
        using var tablet = service.With(await RoleTests.AddAsync(service, "bench tablet", Web.Security.Tokens.TokenRole.Operate));
        var refused = await tablet.PostAsJsonAsync("/api/v1/instruments", new { name = "bench", port, profile }, Token);
        Assert.Equal(422, (int)refused.StatusCode);
        Assert.Contains(told, await RoleTests.ProblemAsync(refused), StringComparison.Ordinal);
    }

    /// <summary>The names of what a route binds: its parameters, and what their types hold. A file that is sent along is no path.</summary>
    private static IEnumerable<string> NamesTaken(RouteEndpoint endpoint, IServiceProviderIsService services) =>
        from parameter in endpoint.Metadata.GetMetadata<MethodInfo>()?.GetParameters() ?? []
        where !services.IsService(parameter.ParameterType) && !typeof(IFormFile).IsAssignableFrom(parameter.ParameterType)
        from name in Inside(parameter.ParameterType, []).Prepend(parameter.Name!)
        select name;

    private static IEnumerable<string> Inside(Type type, HashSet<Type> seen)
    {
        var held = type.IsGenericType ? type.GenericTypeArguments : type.HasElementType ? [type.GetElementType()!] : [type];
        foreach (var inner in held.Where(t => t.Namespace?.StartsWith("Acquire.", StringComparison.Ordinal) == true && seen.Add(t)))
        {
            foreach (var property in inner.GetProperties())
            {
                yield return property.Name;
                foreach (var name in Inside(property.PropertyType, seen))
                {
                    yield return name;
                }
            }
        }
    }

    private static string Root([System.Runtime.CompilerServices.CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));

    private sealed record Wired(string? Port);

    [GeneratedRegex(
        @"(?<![.\w])(File|Directory|Path|WholeFile|OutFile)\.|(?<!\w)(File|Directory)(Info|Stream)\s*\("
        + @"|Stream(Reader|Writer)\((?!.*[bB]ody)|Results\.(File|PhysicalFile|VirtualFile)\(")]
    private static partial Regex FileSystem();

    [GeneratedRegex("path|(?<!pro)file|folder|directory", RegexOptions.IgnoreCase)]
    private static partial Regex TellsOfFiles();
}
