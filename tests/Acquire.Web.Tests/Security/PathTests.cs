using System.Reflection;
using System.Text.RegularExpressions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Web.Security;
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
        var sources = Directory.GetFiles(Api, "*.cs", SearchOption.AllDirectories);
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
    public void The_look_for_files_finds_them(string line) => Assert.Matches(FileSystem(), line);

    [Fact]
    public async Task No_route_takes_a_path()
    {
        await using var service = await RunningService.StartAsync(Token);
        var taken =
            from endpoint in service.App.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            let asked = endpoint.RoutePattern.Parameters.Select(p => p.Name).Concat(NamesTaken(endpoint))
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

    /// <summary>The names of what a route binds: its parameters, and what their types hold.</summary>
    private static IEnumerable<string> NamesTaken(RouteEndpoint endpoint) =>
        endpoint.Metadata.GetMetadata<MethodInfo>() is not { } handler ? []
        : from parameter in handler.GetParameters()
          where parameter.ParameterType != typeof(HttpContext) && parameter.ParameterType.Namespace?.StartsWith("Acquire.Bench", StringComparison.Ordinal) != true
          from name in new[] { parameter.Name! }.Concat(Inside(parameter.ParameterType, []))
          select name;

    private static IEnumerable<string> Inside(Type type, HashSet<Type> seen)
    {
        var held = type.IsGenericType ? type.GenericTypeArguments : type.HasElementType ? [type.GetElementType()!] : [type];
        foreach (var inner in held.Where(t => t.Namespace == "Acquire.Web.Api" && seen.Add(t)))
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

    [GeneratedRegex(@"\b(File|Directory|Path|FileInfo|DirectoryInfo|FileStream|WholeFile|OutFile|StreamReader|StreamWriter)\b\s*[.(]|TypedResults\.(PhysicalFile|VirtualFile)|Results\.File\(\s*(path|name|file)")]
    private static partial Regex FileSystem();

    [GeneratedRegex("path|file|folder|directory", RegexOptions.IgnoreCase)]
    private static partial Regex TellsOfFiles();
}
