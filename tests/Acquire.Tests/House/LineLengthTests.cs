namespace Acquire.Tests.House;

/// <summary>Lines go to 140 columns, as .editorconfig says.</summary>
public class LineLengthTests
{
    private const int Most = 140;

    /// <summary>Lines over it that each room still has. The numbers only shrink: more fail, and so does a room listed without any.</summary>
    private static readonly Dictionary<string, int> Still = new()
    {
        ["src/Acquire"] = 527,
        ["src/Acquire.Analysis"] = 121,
        ["src/Acquire.Bench"] = 253,
        ["src/Acquire.Domain"] = 57,
        ["src/Acquire.Instruments"] = 45,
        ["src/Acquire.Storage"] = 253,
        ["tests/Acquire.Analysis.Tests"] = 225,
        ["tests/Acquire.Bench.Tests"] = 150,
        ["tests/Acquire.Domain.Tests"] = 28,
        ["tests/Acquire.EndToEnd.Tests"] = 54,
        ["tests/Acquire.Instruments.Tests"] = 89,
        ["tests/Acquire.Storage.Tests"] = 175,
        ["tests/Acquire.Tests"] = 221,
        ["tools/DemoTerm"] = 44,
        ["tools/ImportLoad"] = 7,
        ["tools/KillTrials"] = 11,
        ["tools/LearningBenchmark"] = 18,
        ["tools/PlausibilityBenchmark"] = 17,
        ["tools/TestRun"] = 5,
        ["tools/TruthBenchmark"] = 32,
    };

    [Fact]
    public void Lines_stay_within_140_columns()
    {
        var over = SourceRulesTests.Sources
            .SelectMany(file => File.ReadLines(file).Where(line => line.Length > Most).Select(line => (Room: RoomOf(file), File: file, Line: line)))
            .ToLookup(l => l.Room);
        var grown = over.Where(room => room.Count() > Still.GetValueOrDefault(room.Key)).Select(room =>
            $"{room.Key}: {room.Count()} lines over {Most} columns, {Still.GetValueOrDefault(room.Key)} allowed, such as {room.First()}");
        var gone = Still.Keys.Where(room => !over.Contains(room)).Select(room => $"{room}: none left, take it off the list");
        Assert.Empty(grown.Concat(gone));
    }

    private static string RoomOf(string file) => string.Join('/', Path.GetRelativePath(Repository.Root, file).Split(Path.DirectorySeparatorChar).Take(2));
}
