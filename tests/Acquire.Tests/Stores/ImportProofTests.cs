using System.Text.Json.Nodes;
using CsCheck;

namespace Acquire.Tests.Stores;

/// <summary>
/// What an import takes, <c>verify</c> finds sound and every list can show: a record of an export that was changed, by hand or by a disk,
/// is refused or it is one of those.
/// </summary>
[Trait("speed", "slow")]
public sealed class ImportProofTests
{
    private static readonly string Line =
        EarlierStoreTests.Lines.Split('\n').First(l => l.Contains("\"questions\"", StringComparison.Ordinal) || l.Length > 1000);

    /// <summary>Beyond what anything is, at the borders of what types hold, and what text files cannot say.</summary>
    private static readonly string[] Odd =
    [
        "1e308", "-1e308", "1e999", "1e-320", "0", "-1", "1e10", "2147483647", "1.5", "null", "true", "[]", "{}",
        "\"\"", "\" \"", "\"x\"", "\"\\u0000\"", "\"a\\u0000b\"", "\"\\ud800\"",
        "\"9999-12-31T23:59:59.9999999+00:00\"", "\"0001-01-01T00:00:00.0000000+00:00\"",
        "\"2026-03-12T18:30:00.0000000+14:00\"", "\"00000000-0000-0000-0000-000000000000\"",
        "\"red\"", "\"a,b;c\\n\\\"d\"",
    ];

    private static readonly string[] Looks =
        ["verify", "strip list", "strip list --json", "export --out a.jsonl", "export strips --out b.csv", "chart --json", "daily"];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("means.0.mean", "0.123", "does not follow from its reads")]
    [InlineData("means.0.resolution", "1e308", "does not follow from its reads")]
    [InlineData("read_at", "\"9999-12-31T23:00:00.0000000+00:00\"", "lies between 1900 and 2199")]
    [InlineData("revision.number", "2147483647", "cannot be")]
    [InlineData("aims.0.reference", "1e308", "cannot be")]
    public async Task Record_that_would_not_verify_is_refused_with_line_and_cause(string place, string value, string said)
    {
        using var program = new InMemory();
        var (code, _, error) = await ImportAsync(program, Changed(place.Split('.'), value));

        Assert.Equal(2, code);
        Assert.Contains("line 1: ", error, StringComparison.Ordinal);
        Assert.Contains(said, error, StringComparison.Ordinal);
        Assert.Equal(0, (await program.JsonAsync("strip", "list")).GetArrayLength());
    }

    [Fact]
    public async Task Record_changed_anywhere_is_refused_or_verifies_and_is_listed()
    {
        var places = Places(JsonNode.Parse(Line)!, []).ToArray();
        var taken = 0;
        var (place, odd) = (Gen.Int[0, places.Length - 1].Select(i => places[i]), Gen.Int[0, Odd.Length - 1].Select(i => Odd[i]));
        await Gen.Select(place, odd, Gen.Int[0, 3].Select(n => n == 0)).SampleAsync(
            async change =>
            {
                using var program = new InMemory();
                var text = change.Item3 && change.Item1.Length > 1 ? Twice(change.Item1[..^1]) : Changed(change.Item1, change.Item2);
                if ((await ImportAsync(program, text)).Code != 0)
                {
                    return;
                }

                _ = Interlocked.Increment(ref taken);
                foreach (var words in Looks)
                {
                    var (code, output, error) =
                        await program.RunAsync(words.Split(' ').Select(w => w.Contains('.') ? Path.Combine(program.Folder, w) : w));
                    Assert.True(
                        code is 0 or 1,
                        $"{string.Join('.', change.Item1)} = {change.Item2}: {words}: {code} {error}{(words == "verify" ? output : "")}");
                }
            },
            iter: 30,
            threads: 1);
        Assert.True(taken > 0, "Every change was refused, so that nothing was looked at.");
    }

    private static async Task<(int Code, string Out, string Error)> ImportAsync(InMemory program, string line)
    {
        var file = Path.Combine(program.Folder, "strips.jsonl");
        await File.WriteAllTextAsync(file, line + "\n", Token);
        return await program.RunAsync("import", "strips", file, "--add-lots");
    }

    /// <summary>The line with one value another.</summary>
    private static string Changed(string[] place, string value)
    {
        var (root, parent) = At(place[..^1]);
        Put(parent, place[^1], JsonValue.Create("@@"));
        return root.ToJsonString().Replace("\"@@\"", value, StringComparison.Ordinal);
    }

    /// <summary>The line with the first item of a list there twice, or with a member gone.</summary>
    private static string Twice(string[] place)
    {
        var (root, at) = At(place);
        if (at is JsonArray { Count: > 0 } list)
        {
            list.Add(list[0]?.DeepClone());
        }
        else if (at is JsonObject members && members.Count > 0)
        {
            _ = members.Remove(members.First().Key);
        }

        return root.ToJsonString();
    }

    private static (JsonNode Root, JsonNode At) At(string[] place)
    {
        var root = JsonNode.Parse(Line)!;
        return (root, place.Aggregate(root, (node, step) =>
            node is JsonArray list ? list[int.Parse(step, System.Globalization.CultureInfo.InvariantCulture)]! : node[step]!));
    }

    private static void Put(JsonNode parent, string step, JsonNode value)
    {
        if (parent is JsonArray list)
        {
            list[int.Parse(step, System.Globalization.CultureInfo.InvariantCulture)] = value;
        }
        else
        {
            parent[step] = value;
        }
    }

    /// <summary>Where the values of a document stand.</summary>
    private static IEnumerable<string[]> Places(JsonNode? node, string[] at) => node switch
    {
        JsonObject members => members.SelectMany(m => Places(m.Value, [.. at, m.Key])),
        JsonArray list => list.SelectMany((item, i) => Places(item, [.. at, $"{i}"])),
        _ => [at],
    };
}
