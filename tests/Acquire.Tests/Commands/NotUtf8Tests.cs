using System.Text;

namespace Acquire.Tests.Commands;

/// <summary>
/// Old spreadsheets are often in Latin-1. Taken for UTF-8, its letters would turn into signs that stand for nothing, and names that differ
/// into one: two groups of a series would be studied as one.
/// </summary>
public sealed class NotUtf8Tests : IDisposable
{
    private const string Series = "value,group\n0.44,morning\n0.45,früh\n0.46,spät\n";
    private const string Reads = "patch,read,red,green,blue\nld,1,0.45,0.86,1.04\nfrüh,1,0.45,0.86,1.04\nfrüh,2,0.46,0.86,1.05\n";
    private const string Strips =
        "strip,processed_at,lot,line,bottle,patch,read,red,green,blue\n7,2026-03-04,2417,dip tank,,ld,1,0.4,0.8,1\n"
        + "8,2026-03-04,2417,früh,,ld,1,0.4,0.8,1.0\n";

    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Theory]
    [InlineData(Series, "stats", "--from")]
    [InlineData(Reads, "repeatability", "--from")]
    [InlineData(Reads, "repeatability", "--profile", "labelled-line", "--from")]
    [InlineData(Strips, "import", "strips")]
    public async Task File_in_latin_1_is_refused_with_its_name_and_line_and_nothing_is_kept(string text, params string[] command)
    {
        var file = Path.Combine(_program.Folder, "old.csv");
        await File.WriteAllBytesAsync(file, Encoding.Latin1.GetBytes(text), TestContext.Current.CancellationToken);

        var (code, output, error) = await _program.RunAsync([.. command, file]);

        Assert.Equal((2, ""), (code, output));
        Assert.Contains($"{file}, line 3", error, StringComparison.Ordinal);
        Assert.Contains("UTF-8", error, StringComparison.Ordinal);
        Assert.Empty((await _program.JsonAsync("repeatability", "list")).EnumerateArray());
        Assert.Empty((await _program.JsonAsync("strip", "list")).EnumerateArray());

        // The same in UTF-8 is taken, so that it is the bytes that were refused.
        await File.WriteAllTextAsync(file, text, TestContext.Current.CancellationToken);
        Assert.DoesNotContain("UTF-8", (await _program.RunAsync([.. command, file])).Error, StringComparison.Ordinal);
    }
}
