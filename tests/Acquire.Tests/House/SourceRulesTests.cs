namespace Acquire.Tests.House;

/// <summary>House rules that a reader cannot see at a glance.</summary>
public class SourceRulesTests
{
    internal static IEnumerable<string> Sources => new[] { "src", "tests", "tools" }
        .Select(folder => Path.Combine(Repository.Root, folder))
        .SelectMany(folder => Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories))
        .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal));

    [Fact]
    public void Files_stay_under_400_lines() =>
        Assert.DoesNotContain(Sources, f => File.ReadLines(f).Count() > 400);

    [Fact]
    public void Files_are_mostly_short()
    {
        // A file holds one feature with its small types beside it, so it is longer than a file of one type would be.
        var lengths = Sources.Select(f => File.ReadLines(f).Count()).Order().ToList();
        Assert.True(lengths[lengths.Count / 2] <= 100, $"The median file has {lengths[lengths.Count / 2]} lines.");
        Assert.True(lengths[lengths.Count * 9 / 10] <= 200, $"One file in ten has more than {lengths[lengths.Count * 9 / 10]} lines.");
    }

    [Fact]
    public void Suppressed_warnings_are_restored()
    {
        var open =
            from file in Sources
            let text = File.ReadAllText(file)
            where Count(text, "#pragma warning " + "disable") != Count(text, "#pragma warning " + "restore")
            select file;
        Assert.Empty(open);
    }

    [Fact]
    public void Top_level_holds_the_names_of_the_design_only()
    {
        string[] allowed = ["Acquire.sln", "README.md", "DEVELOPERS.md", "LICENSE", "src", "tests", "tools", "device-profiles"];
        var names = Directory.EnumerateFileSystemEntries(Repository.Root).Select(Path.GetFileName).OfType<string>();
        string[] madeByUse = ["strips.csv", "TestResults"];
        Assert.Empty(names.Where(n => !n.StartsWith('.')).Except(allowed).Except(madeByUse));
    }

    private static int Count(string text, string part) => text.Split(part).Length - 1;
}
