using System.Text.Json;
using System.Text.RegularExpressions;

namespace Acquire.Tests.Commands;

public sealed class CausesCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Strip_on_aim_gets_one_sentence_and_nothing_more()
    {
        var strip = AgeingSeason.Faulty(0, null, 0);
        await AddAsync(strip);

        var (code, output, _) = await _program.RunAsync("causes", strip.Id.ToString());

        Assert.Equal(0, code);
        Assert.Matches(@"^Nothing but natural scatter is needed to explain this strip \((over )?\d\d %\)\.\n$", output);
        Assert.Empty((await _program.JsonAsync("causes", strip.Id.ToString())).GetProperty("steps").EnumerateArray());
    }

    [Fact]
    public async Task Retained_silver_comes_first_with_reasons_and_an_order_of_work()
    {
        var strip = AgeingSeason.Faulty(0, "retained-silver", 1);
        await AddAsync(strip);

        var (code, output, _) = await _program.RunAsync("causes", strip.Id.ToString());

        Assert.Equal(0, code);
        Assert.StartsWith("Most likely retained silver (", output, StringComparison.Ordinal);
        Assert.Contains("[retained-silver]", output, StringComparison.Ordinal);
        Assert.Matches(@"for:     .*D-max (red|green|blue) \+0\.\d{3} \(it would make \+0\.\d{3}\)", output);
        Assert.Matches(@"What to do, in order:\n 1\. Look at the strip again", output);
        Assert.EndsWith("they are no oracle. Only a test decides.\n", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_that_came_back_after_bleaching_bears_silver_out_whichever_reading_is_asked_for()
    {
        var strip = AgeingSeason.Faulty(0, "retained-silver", 1);
        var again = AgeingSeason.Faulty(1, null, 0, strip, Treatment.ReBleach);
        await AddAsync(strip, again);

        var json = await _program.JsonAsync("causes", again.Id.ToString());

        Assert.Equal(strip.Id, json.GetProperty("weighedId").GetGuid());
        Assert.Contains("retained-silver", json.GetProperty("context").GetProperty("borneOut").EnumerateArray().Select(k => k.GetString()));
        Assert.DoesNotContain(
            json.GetProperty("steps").EnumerateArray(), s => s.GetString()!.StartsWith("Bleach and fix", StringComparison.Ordinal));
        Assert.True(Probability(json, "retained-silver") > 0.95);
        var (_, output, _) = await _program.RunAsync("causes", again.Id.ToString());
        Assert.Contains("the reading before re-bleach", output, StringComparison.Ordinal);
        Assert.Contains("Read again after re-bleach: retained silver", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_that_did_not_come_back_rules_silver_out()
    {
        var strip = AgeingSeason.Faulty(0, "retained-silver", 1);
        await AddAsync(strip, AgeingSeason.Faulty(1, "retained-silver", 1, strip, Treatment.ReBleach));

        var json = await _program.JsonAsync("causes", strip.Id.ToString());

        Assert.Contains("retained-silver", json.GetProperty("context").GetProperty("ruledOut").EnumerateArray().Select(k => k.GetString()));
        Assert.Equal(0, Probability(json, "retained-silver"));
        Assert.Contains("retained silver", (await _program.RunAsync("causes", strip.Id.ToString())).Out.Split('\n').Single(
            l => l.Contains("ruled out", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fault_that_the_user_rules_out_is_not_named()
    {
        var strip = AgeingSeason.Faulty(0, "developer-cold", 1.5);
        await AddAsync(strip);

        Assert.True(Probability(await _program.JsonAsync("causes", strip.Id.ToString()), "developer-cold") > 0.02);
        Assert.Equal(
            0, Probability(await _program.JsonAsync("causes", strip.Id.ToString(), "--rule-out", "Developer-Cold"), "developer-cold"));
    }

    [Fact]
    public async Task Json_carries_every_number_of_the_text()
    {
        var strip = AgeingSeason.Faulty(0, "over-time", 1.5);
        await AddAsync(strip);

        var (_, text, _) = await _program.RunAsync("causes", strip.Id.ToString());
        var numbers = Numbers(await _program.JsonAsync("causes", strip.Id.ToString())).ToList();
        var known = numbers.Select(n => Math.Abs(n).ToString("0.000", CultureInfo.InvariantCulture))
            .Concat(numbers.Select(n => (100 * n).ToString("0", CultureInfo.InvariantCulture)))
            .ToHashSet();

        var shown = Regex.Matches(text, @"\d\.\d{3}|\d+(?= %)").Select(m => m.Value).Where(v => v is not ("99" or "1")).ToList();
        Assert.NotEmpty(shown);
        Assert.All(shown, v => Assert.Contains(v, known));
    }

    [Theory]
    [InlineData(new[] { "ffffffff" }, "There is no strip ffffffff")]
    [InlineData(new[] { "", "--rule-out", "gremlins" }, "'gremlins' is no fault of C-41; it has ")]
    public async Task Wrong_use_says_what_was_expected(string[] arguments, string said)
    {
        var strip = AgeingSeason.Faulty(0, null, 0);
        await AddAsync(strip);

        var (code, output, error) = await _program.RunAsync(["causes", .. arguments.Select(a => a.Length == 0 ? strip.Id.ToString() : a)]);

        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    private static double Probability(JsonElement json, string key) => json.GetProperty("groups").EnumerateArray()
        .SelectMany(g => g.GetProperty("causes").EnumerateArray())
        .Where(c => c.GetProperty("key").GetString() == key).Select(c => c.GetProperty("probability").GetDouble()).SingleOrDefault();

    private static IEnumerable<double> Numbers(JsonElement json) => json.ValueKind switch
    {
        JsonValueKind.Number => [json.GetDouble()],
        JsonValueKind.Array => json.EnumerateArray().SelectMany(Numbers),
        JsonValueKind.Object => json.EnumerateObject().SelectMany(p => Numbers(p.Value)),
        _ => [],
    };

    private async Task AddAsync(params StripRecord[] strips)
    {
        await using var store = await AgeingSeason.OpenAsync(_program.Folder, TestContext.Current.CancellationToken);
        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }
    }
}
