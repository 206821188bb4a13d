namespace Acquire.Tests.House;

/// <summary>
/// Lines go to 140 columns, as .editorconfig says. What cannot be broken may be longer: a line of a raw string (SQL, style sheets, other
/// programs' text) and a pattern or interpolation that would only read worse in pieces.
/// </summary>
public class LineLengthTests
{
    private const int Most = 140;

    [Fact]
    public void Lines_stay_within_140_columns() => Assert.Empty(
        from file in SourceRulesTests.Sources
        from line in Long(file)
        select $"{Path.GetRelativePath(Repository.Root, file)}({line})");

    [Fact]
    public void Long_line_outside_a_raw_string_is_found()
    {
        var wide = new string('x', Most);
        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllLines(file, ["var a = " + wide + ";", "var b = \"\"\"", wide + wide, "    \"\"\";", "var c = " + wide + ";"]);
            Assert.Equal([1, 5], Long(file));
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static IEnumerable<int> Long(string file)
    {
        var isRaw = false;
        foreach (var (i, line) in File.ReadLines(file).Index())
        {
            var marks = line.Split("\"\"\"").Length - 1;
            if (line.Length > Most && !isRaw && marks == 0)
            {
                yield return i + 1;
            }

            isRaw ^= marks % 2 == 1;
        }
    }
}
