using System.Text.Json;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.StripWork;

/// <summary>
/// An imported strip is judged by what a strip read on its day would have been judged by: the reference and the crossover in force then.
/// </summary>
[Trait("speed", "slow")]
public sealed class ImportedAimsTests : IDisposable
{
    private static readonly DateTimeOffset Start = new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero);

    private readonly FakeTimeProvider _time = new(Start);
    private readonly InMemory _program;

    public ImportedAimsTests() => _program = new InMemory { Time = _time };

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    /// <summary>
    /// Reference from day 0 (LD red 0.40), crossover by +0.05 from day 4, another reference from day 8 (0.43), on which no crossover rests.
    /// </summary>
    [Fact]
    public async Task Imported_strip_has_the_aims_of_its_day()
    {
        await AddLotAsync("2417", "0.40");
        await AddLotAsync("2511", "0.40");
        var pairs = new List<string>();
        for (var day = 1; day <= 3; day++)
        {
            pairs.Add($"{await ImportAsync("2417", day, 0.40m)}:{await ImportAsync("2511", day, 0.45m)}");
        }

        _time.SetUtcNow(Start.AddDays(4));
        await DoAsync("lot", "crossover", "2417", "2511", "--pairs", string.Join(',', pairs), "--accept", "--reason", "three pairs");
        _time.SetUtcNow(Start.AddDays(8));
        await DoAsync([.. Reference("2511", "0.43"), "--reason", "densitometer repaired"]);
        _time.SetUtcNow(Start.AddDays(20));

        Assert.Equal(0.40, await AimAsync(await ImportAsync("2511", -2, 0.45m)), 1e-9);
        Assert.Equal(0.40, await AimAsync(await ImportAsync("2511", 2.5, 0.45m)), 1e-9);
        Assert.Equal(0.45, await AimAsync(await ImportAsync("2511", 5, 0.45m)), 1e-9);
        Assert.Equal(0.43, await AimAsync(await ImportAsync("2511", 9, 0.45m)), 1e-9);
    }

    /// <summary>What a record says it was judged by goes with it: an export taken back is not judged anew.</summary>
    [Fact]
    public async Task Record_taken_back_keeps_the_aims_it_says()
    {
        await AddLotAsync("2417", "0.40");
        var id = await ImportAsync("2417", 1, 0.44m);
        var file = Path.Combine(_program.Folder, "out.jsonl");
        await DoAsync("export", "strips", "--out", file);
        using var other = new InMemory { Time = _time };
        foreach (string[] command in (string[][])[
            ["lot", "add", "2417", "--process", "c41"], Reference("2417", "0.50"), ["import", "strips", file]])
        {
            var (code, _, error) = await other.RunAsync(command);
            Assert.True(code == 0, error);
        }

        Assert.Equal(0.40, LdRed(await other.JsonAsync("strip", "show", id)), 1e-9);
    }

    private static string[] Reference(string lot, string ldRed) =>
    [
        "lot", "reference", lot, "--value", "dmin 0.26 0.62 0.80", "--value", $"ld {ldRed} 0.86 1.04", "--value", "hd 1.26 1.74 2.00",
        "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72",
    ];

    private static double LdRed(JsonElement strip) => strip.GetProperty("patches")[1].GetProperty("aims")[0].GetProperty("aim").GetDouble();

    private async Task<double> AimAsync(string id) => LdRed(await _program.JsonAsync("strip", "show", id));

    private async Task AddLotAsync(string lot, string ldRed)
    {
        await DoAsync("lot", "add", lot, "--process", "c41");
        await DoAsync(Reference(lot, ldRed));
    }

    private async Task<string> ImportAsync(string lot, double day, decimal ldRed)
    {
        var at = Start.AddDays(day);
        var rows = ((string Patch, decimal Red, string GreenBlue)[])
        [
            ("dmin", 0.26m, "0.62,0.80"), ("ld", ldRed, "0.86,1.04"), ("hd", 1.26m, "1.74,2.00"), ("dmax", 2.12m, "2.58,2.92"),
            ("yellow", 0.37m, "0.88,2.72"),
        ];
        var file = Path.Combine(_program.Folder, "strips.csv");
        await File.WriteAllTextAsync(
            file,
            "strip,processed_at,lot,patch,read,red,green,blue\n" + string.Concat(rows.Select(r => FormattableString.Invariant(
                $"{lot} {day},{at:yyyy-MM-dd HH:mm:ss}Z,{lot},{r.Patch},1,{r.Red},{r.GreenBlue}\n"))),
            Token);
        await DoAsync("import", "strips", file);
        Assert.Equal(1, (await _program.JsonAsync("import", "strips", file)).GetProperty("alreadyThere").GetInt32());
        return (await _program.JsonAsync("strip", "list")).EnumerateArray()
            .Single(s => s.GetProperty("lot").GetString() == lot && s.GetProperty("readAt").GetDateTimeOffset() == at).GetProperty("id")
                .GetString()!;
    }

    private async Task DoAsync(params string[] command)
    {
        var (code, _, error) = await _program.RunAsync(command);
        Assert.True(code == 0, error);
    }
}
