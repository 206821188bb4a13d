using System.IO.Compression;
using System.Text.Json;

namespace Acquire.Tests.StripWork;

/// <summary>Each text that can be said of a strip goes everywhere: a new one that was forgotten somewhere is found here.</summary>
[Trait("speed", "slow")]
public sealed class StripTextsTests : IDisposable
{
    private readonly InMemory _program = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public static TheoryData<string> Names => [.. StripTags.Texts.Select(t => t.Name)];

    public void Dispose() => _program.Dispose();

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Text_is_asked_for_kept_shown_exported_and_taken_back(string name)
    {
        var text = StripTags.Texts.Single(t => t.Name == name);
        var said = $"said {name}";
        var id = await StripAsync();
        var option = "--" + name.Replace('_', '-');
        Assert.Contains(option + " ", (await _program.RunAsync("read", "--help")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.RunAsync("strip", "amend", id, "--reason", "forgotten", option, said)).Code);

        var shown = await _program.JsonAsync("strip", "show", id);
        Assert.Equal(said, shown.GetProperty(JsonNamingPolicy.CamelCase.ConvertName(Pascal(name))).GetString());
        Assert.Contains(said, (await _program.RunAsync("strip", "show", id)).Out, StringComparison.Ordinal);
        Assert.Contains($"{name}: none → {said}", (await _program.RunAsync("strip", "history", id)).Out, StringComparison.Ordinal);
        foreach (var format in text.Keyword is null ? ["jsonl"] : (string[])["jsonl", "csv", "cgats"])
        {
            await RequireTakenBackAsync(await ExportAsync("strips", format), id, text, said);
        }

        if (text.Keyword is not null)
        {
            Assert.Contains(said, await File.ReadAllTextAsync(await ExportAsync("", "csv"), Token), StringComparison.Ordinal);
            using var workbook = ZipFile.OpenRead(await ExportAsync("strips", "xlsx"));
            using var sheet = new StreamReader(workbook.GetEntry("xl/worksheets/sheet1.xml")!.Open());
            Assert.Contains(said, await sheet.ReadToEndAsync(Token), StringComparison.Ordinal);
        }
    }

    private static async Task RequireTakenBackAsync(string file, string id, TextTag text, string said)
    {
        using var other = new InMemory();
        var (code, _, error) = await other.RunAsync("import", "strips", file, "--add-lots");
        Assert.True(code == 0, error);
        await using var store = await EmptyStore.OpenAsync(other.Folder, other.Time, Token);
        Assert.Equal(said, text.Of((await store.FindStripAsync(id, Token))!.Tags));
    }

    private async Task<string> StripAsync()
    {
        var file = Path.Combine(_program.Folder, "strips.csv");
        await File.WriteAllTextAsync(
            file, "strip,processed_at,lot,patch,read,red,green,blue\n7,2026-03-04 18:30,2417,ld,1,0.46,0.84,1.04\n", Token);
        Assert.Equal(0, (await _program.RunAsync("import", "strips", file, "--add-lots", "--process", "c41")).Code);
        return (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;
    }

    private async Task<string> ExportAsync(string what, string format)
    {
        var file = Path.Combine(_program.Folder, $"{what}out.{format}");
        string[] command = what.Length > 0 ? ["export", what] : ["export"];
        var (code, _, error) = await _program.RunAsync([.. command, "--format", format, "--force", "--out", file]);
        Assert.True(code == 0, error);
        return file;
    }

    private static string Pascal(string name) => string.Concat(name.Split('_').Select(w => char.ToUpperInvariant(w[0]) + w[1..]));
}
