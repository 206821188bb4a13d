using System.Text.Json.Nodes;
using Acquire.Commands.Service;
using Acquire.Demo;
using Acquire.Instruments.Links;
using Acquire.Web.Hosting;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Service;

/// <summary>A route answers with what its command prints: the same document, drawing or page, from one store.</summary>
public sealed class SameDocumentTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    [Trait("speed", "slow")]
    public async Task Routes_answer_what_commands_print()
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 11, 27, 21, 0, 0, TimeSpan.Zero));
        using var commands = new InMemory { BeginsWithStore = false, Time = time };
        await InventedTerm.FillAsync(commands.Folder, time, Token);
        await using var store = await AcquireStore.OpenAsync(commands.Folder, time, Token);
        await using var app = ServiceHost.Build(
            _ => { },
            commands.Folder,
            "token",
            new ServiceGround(store, new LinkOpener(time), time, NullLoggerFactory.Instance, "staff", ServeCommand.Drawings));
        await app.StartAsync(Token);
        using var client = Client(app);
        var strip = (await AskAsync(client, "strips?last=1"))["items"]![0]!["id"]!.GetValue<string>();
        var lot = (await AskAsync(client, "lots"))["items"]![0]!["code"]!.GetValue<string>();
        var unlike = new List<string>();
        foreach (var (route, command) in Pairs(strip, lot))
        {
            var answered = await AskAsync(client, route);
            var (_, printed, error) = await commands.RunAsync(command.Split(' '));
            var told =
                answered is JsonObject list && !command.Contains("show", StringComparison.Ordinal) ? list["items"] ?? answered : answered;
            if (!JsonNode.DeepEquals(told, JsonNode.Parse(printed)))
            {
                unlike.Add($"{route} is not {command} {error}");
            }
        }

        Assert.Empty(unlike);
        await HoldFileAsync(commands, client, "chart.svg?last=20", "chart --last 20 --out", "chart.svg");
        await HoldFileAsync(commands, client, "report?last=20", "report --last 20 --out", "report.html");
        await HoldFileAsync(commands, client, "export?form=reads", "export strips --out", "reads.csv");
        await HoldFileAsync(commands, client, "export", "export --out", "results.csv");
    }

    private static IEnumerable<(string Route, string Command)> Pairs(string strip, string lot) =>
    [
        ($"strips/{strip}", $"strip show {strip} --json"),
        ("strips?last=30", "strip list --last 30 --json"),
        ($"strips/{strip}/revisions", $"strip history {strip} --json"),
        ($"strips/{strip}/causes", $"causes {strip} --json"),
        ($"strips/{strip}/risks", $"strip level --strip {strip} --json"),
        ("chart?last=20&axis=age", "chart --last 20 --axis age --json"),
        ("life", "life --json"),
        ("daily", "daily --json"),
        ("lots", "lot list --json"),
        ($"lots/{lot}", $"lot show {lot} --json"),
        ("stock", "lot stock --json"),
        ("lines", "line list --json"),
        ("solutions", "solution list --json"),
        ("bottles?all=true", "bottle list --all --json"),
        ("uses?limit=1000", "use list --json"),
        ("events", "event list --json"),
        ("books?limit=1000", "event list --all --json"),
        ("film-formats", "use formats --json"),
        ("plaques", "plaque list --json"),
        ("checks", "check list --json"),
        ("repeatability-tests", "repeatability list --json"),
        ("processes", "process list --json"),
        ("processes/c41", "process show c41 --json"),
        ("backups", "backup list --json"),
        ("verify", "verify --json"),
    ];

    private static async Task HoldFileAsync(InMemory commands, HttpClient client, string route, string command, string file)
    {
        var path = Path.Combine(commands.Folder, file);
        var (code, _, error) = await commands.RunAsync([.. command.Split(' '), path]);
        Assert.True(code == 0, error);
        Assert.Equal(await File.ReadAllTextAsync(path, Token), await client.GetStringAsync($"/api/v1/{route}", Token));
    }

    private static async Task<JsonNode> AskAsync(HttpClient client, string route)
    {
        using var answer = await client.GetAsync($"/api/v1/{route}", Token);
        var text = await answer.Content.ReadAsStringAsync(Token);
        Assert.True(answer.IsSuccessStatusCode, $"{route}: {text}");
        return JsonNode.Parse(text)!;
    }

    private static HttpClient Client(WebApplication app)
    {
        var client = new HttpClient { BaseAddress = new Uri(ServiceHost.UrlOf(app)) };
        client.DefaultRequestHeaders.Authorization = new("Bearer", "token");
        return client;
    }
}
