using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Acquire.Bench.Instruments;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Web.Tests.Support;

/// <summary>
/// The darkroom of a community college, filled through the API alone: a dip tank for the evening class and a bench-top machine for staff,
/// two lots with a reference, one without, and a season of strips. Invented numbers.
/// </summary>
internal sealed class Darkroom : IAsyncDisposable
{
    private static readonly string[] Patches = ["dmin", "ld", "hd", "dmax", "yellow"];

    private static readonly double[][] Levels =
        [[0.26, 0.62, 0.80], [0.46, 0.84, 1.04], [0.95, 1.45, 1.81], [1.86, 2.36, 2.84], [0.36, 0.66, 1.59]];

    private readonly Dictionary<string, JsonNode?> _answers = [];

    private Darkroom(RunningService service) => Service = service;

    public RunningService Service { get; }

    /// <summary>What the writes answered, by operation.</summary>
    public IReadOnlyDictionary<string, JsonNode?> Answers => _answers;

    /// <summary>Ids of the strips of lot 2417, in the order of reading.</summary>
    public ImmutableArray<string> Strips { get; private set; } = [];

    /// <summary>The description that the service serves.</summary>
    public JsonObject Description { get; private set; } = [];

    public static async Task<Darkroom> OpenAsync(CancellationToken cancellationToken)
    {
        var darkroom = new Darkroom(await RunningService.StartAsync(cancellationToken));
        await darkroom.FillAsync(cancellationToken);
        return darkroom;
    }

    public async Task<JsonNode> GetAsync(string path, CancellationToken cancellationToken)
    {
        using var answer = await Service.Client.GetAsync(path, cancellationToken);
        var text = await answer.Content.ReadAsStringAsync(cancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {(int)answer.StatusCode} {text}");
        return JsonNode.Parse(text)!;
    }

    /// <summary>Sends the example that the description has for an operation, or another body.</summary>
    public async Task<JsonNode?> PostAsync(string operation, string path, CancellationToken cancellationToken, string? body = null)
    {
        var sent = body ?? ExampleOf(operation)?.ToJsonString() ?? "";
        using var answer = await Service.Client.PostAsync(
            path, new StringContent(sent, Encoding.UTF8, "application/json"), cancellationToken);
        return await KeepAsync(operation, answer, cancellationToken);
    }

    public async ValueTask DisposeAsync() => await Service.DisposeAsync();

    private async Task FillAsync(CancellationToken cancellationToken)
    {
        Description = (await GetAsync("/openapi/v1.json", cancellationToken)).AsObject();
        _ = await new InstrumentBook(Service.Store, new ProfileLibrary(), TimeProvider.System).AddAsync(
            "bench densitometer", new InstrumentDetails(Port: "tcp:127.0.0.1:9", Profile: "labelled-line"), "staff", null,
            cancellationToken);
        Task<JsonNode?> Post(string operation, string path, string? body = null) =>
            PostAsync(operation, "/api/v1" + path, cancellationToken, body);
        _ = await Post("addLine", "/lines", """{"name":"bench-top machine","process":"c41","kind":"bench-top-machine"}""");
        _ = await Post("addLine", "/lines");
        _ = await Post("changeMethod", "/lines/dip%20tank/methods");
        _ = await Post("enterMix", "/solutions");
        _ = await Post("fillBottle", "/bottles");
        _ = await Post("enterBottleEvent", "/bottles/D7/events");
        _ = await Post("enterUse", "/uses");
        _ = await Post("enterEvent", "/events");
        _ = await Post("addLot", "/lots", """{"code":"2431","process":"c41"}""");
        _ = await Post("addLot", "/lots", """{"code":"2502","process":"c41"}""");
        _ = await Post("addLot", "/lots");
        _ = await Post("enterReference", "/lots/2431/references");
        _ = await Post("enterReference", "/lots/2417/references");
        _ = await Post("moveStock", "/stock");
        _ = await Post("addPlaque", "/plaques");
        _ = await Post("enterCheck", "/checks");
        _ = await Post("enterRepeatabilityTest", "/repeatability-tests");
        await ImportAsync(cancellationToken);
        var strips = await GetAsync("/api/v1/strips?limit=1000", cancellationToken);
        string[] Of(string lot) =>
            [.. strips["items"]!.AsArray().Where(s => s!["lot"]!.GetValue<string>() == lot).Select(s => s!["id"]!.GetValue<string>())];
        Strips = [.. Of("2417")];
        _ = await Post("amendStrip", $"/strips/{Strips[0]}/revisions");
        var young = Of("2431");
        _ = await Post("acceptCrossover", "/lots/2431/crossover", JsonSerializer.Serialize(new
        {
            from = "2417",
            pairs = young.Select((id, i) => new { old = Strips[i], @new = id }),
            acceptedFor = "three pairs on three evenings agree",
        }));
        _ = await Post("makeBaseline", "/lots/2502/baseline", JsonSerializer.Serialize(new { strips = Of("2502") }));
        _ = await Post("studySeries", "/series");
        _ = await Post("backUp", "/backups");
        _ = await Post("letBrowserIn", "/sign-ins");
        _ = await Post("enterEvent", "/events", """{"kind":"pause","text":"winter break"}""");
        _ = await Post("withdrawEntry", "/books/withdrawals");
    }

    private async Task ImportAsync(CancellationToken cancellationToken)
    {
        var file = new StringContent(Reads(), Encoding.UTF8, "text/csv");
        using var answer = await Service.Client.PostAsync("/api/v1/import?name=season.csv", file, cancellationToken);
        _ = await KeepAsync("importStrips", answer, cancellationToken);
    }

    /// <summary>The reads of a season, three days from strip to strip.</summary>
    public static string Reads()
    {
        var text = new StringBuilder("strip,processed_at,lot,line,bottle,patch,read,red,green,blue,process\n");
        var chance = new Random(41);
        for (var strip = 0; strip < 24; strip++)
        {
            var (lot, off) = strip < 16 ? ("2417", 0.004 * Math.Max(0, strip - 8)) : strip < 19 ? ("2431", 0.03) : ("2502", 0);
            var day = new DateOnly(2024, 9, 2).AddDays(3 * (strip is >= 16 and < 19 ? strip - 16 : strip));
            foreach (var (patch, levels) in Patches.Zip(Levels))
            {
                for (var read = 1; read <= 2; read++)
                {
                    var values = levels.Select(v => v + (patch is "ld" or "hd" ? off : 0) + (0.01 * chance.Next(-1, 2)));
                    _ = text.Append(
                        CultureInfo.InvariantCulture, $"{strip + 1:00},{day:yyyy-MM-dd}T19:30,{lot},dip tank,D7,{patch},{read},")
                        .AppendJoin(',', values.Select(v => v.ToString("0.00", CultureInfo.InvariantCulture))).Append(",c41\n");
                }
            }
        }

        return text.ToString();
    }

    private JsonNode? ExampleOf(string operation) => Operations(Description)
        .First(o => o.Operation["operationId"]!.GetValue<string>() == operation)
        .Operation["requestBody"]?["content"]?["application/json"]?["example"];

    public static IEnumerable<(string Path, string Method, JsonObject Operation)> Operations(JsonObject description) =>
        from path in description["paths"]!.AsObject()
        from method in path.Value!.AsObject()
        select (path.Key, method.Key, method.Value!.AsObject());

    private async Task<JsonNode?> KeepAsync(string operation, HttpResponseMessage answer, CancellationToken cancellationToken)
    {
        var text = await answer.Content.ReadAsStringAsync(cancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{operation}: {(int)answer.StatusCode} {text}");
        return _answers[operation] = JsonNode.Parse(text);
    }
}
