using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Support;

/// <summary>A file of this repository that a test holds to what the program gives.</summary>
internal static class Golden
{
    private static readonly JsonSerializerOptions Spelling = new()
    {
        WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string PathOf(string file) => Path.Combine(Root(), file);

    public static string Write(JsonNode node) => node.ToJsonString(Spelling) + "\n";

    /// <summary>Fails with all that is unlike, and leaves what the program gives now where it can be taken from.</summary>
    public static async Task HoldAsync(IReadOnlyCollection<string> unlike, string file, JsonNode now, CancellationToken cancellationToken)
    {
        if (unlike.Count == 0)
        {
            return;
        }

        var beside = Path.Combine(AppContext.BaseDirectory, Path.GetFileName(file) + ".now");
        await File.WriteAllTextAsync(beside, Write(now), cancellationToken);
        Assert.Fail($"{file} is not what the service gives now:\n{string.Join('\n', unlike.Take(20))}\n"
            + $"Where the change is meant: cp {beside} {file}");
    }

    private static string Root([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../../.."));
}
