using Acquire.Bench.Processes;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Processes;

public sealed class ProcessLibraryTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-processes-").FullName;
    private readonly ProcessLibrary _library;

    public ProcessLibraryTests() => _library = new ProcessLibrary(_folder);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("c41")]
    [InlineData("C-41")]
    public void Get_without_an_own_sheet_gives_the_shipped_one(string key) =>
        Assert.Equal(0.06, _library.Get(key).Parameters.Single(p => p.Key == "ld").Limits.Action!.Upper);

    [Fact]
    public void Get_prefers_the_users_own_sheet()
    {
        Own("c41", ("0.06", "0.05"));
        Assert.Equal(0.05, _library.Get("C-41").Parameters.Single(p => p.Key == "ld").Limits.Action!.Upper);
        var listed = Assert.Single(_library.List(out _), s => s.Key == "c41");
        Assert.Equal(0.05, listed.Parameters.Single(p => p.Key == "ld").Limits.Action!.Upper);
    }

    [Fact]
    public void Get_of_an_own_sheet_with_an_error_names_the_file()
    {
        Own("c41", ("\"ld\"", "\"l d\""));
        Assert.Contains("c41.json", Assert.Throws<ProcessSheetException>(() => _library.Get("c41")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Get_of_an_own_sheet_under_another_name_says_so()
    {
        Own("ours", ("0.06", "0.05"));
        Assert.Contains(
            "must be named c41.json", Assert.Throws<ProcessSheetException>(() => _library.Get("ours")).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("x-99")]
    [InlineData("../../etc/passwd")]
    [InlineData("")]
    public void Get_of_what_there_is_not_lists_what_there_is(string key) =>
        Assert.Contains(
            "there are bw, c41", Assert.Throws<ProcessSheetException>(() => _library.Get(key)).Message, StringComparison.Ordinal);

    private void Own(string file, (string Old, string New) change) => File.WriteAllText(
        Path.Combine(_folder, file + ".json"),
        ProcessSheetWriter.Write(ShippedSheets.Get("c41")).Replace(change.Old, change.New, StringComparison.Ordinal));
}
