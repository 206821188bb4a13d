using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Tests.ProcessSheets;

public class ProcessSheetReaderTests
{
    private const string House = """
        {
          "key": "house",
          "name": "House process",
          "status": "m",
          "layout": { "name": "two", "patches": [{ "key": "ld", "name": "LD" }, { "key": "hd", "name": "HD" }] },
          "parameters": [
            { "key": "c", "name": "HD − LD", "standsFor": "contrast", "kind": "difference", "patch": "hd", "minus": "ld",
              "channels": ["red", "G"],
              "action": { "lower": -0.07, "upper": 0.07 }, "control": { "upper": 0.09, "lower": -0.1, "source": "the house" },
              "source": "sheet in the box" }
          ]
        }
        """;

    [Fact]
    public void Sheet_is_read_with_its_limits_and_their_sources()
    {
        var parameter = Assert.IsType<DifferenceParameter>(ProcessSheetReader.Read(House, "house.json").Parameters.Single());

        Assert.Equal(("hd", "ld", 2), (parameter.PatchKey, parameter.MinusPatchKey, parameter.Channels.Length));
        Assert.Equal(new Limit(-0.07, 0.07, "sheet in the box"), parameter.Limits.Action);
        Assert.Equal(new Limit(-0.1, 0.09, "the house"), parameter.Limits.Control);
    }

    // A piece of the sheet, what it is replaced by, and the whole problem.
    [Theory]
    [InlineData(
        "\"status\": \"m\"",
        "\"status\": \"X\"",
        "house.json, line 4, column 13, $.status: Expected: A density status, M, A or visual (ISO 5-3), which the strips are read with.")]
    [InlineData("\"key\": \"house\",", "", "house.json, line 1, column 1, $: 'key' is missing; expected a text.")]
    [InlineData("\"key\": \"house\"", "\"key\": 7", "house.json, line 2, column 10, $.key: Expected a text, found the number 7.")]
    [InlineData("\"key\": \"house\"", "\"key\": \"\"", "house.json, line 2, column 10, $.key: Expected: A text that is not blank.")]
    [InlineData("\"difference\"", "\"ratio\"", "house.json, line 7, column 71, $.parameters[0].kind: Expected one of "
        + "patch, difference, spread, gradient, slope, speedPoint.")]
    [InlineData(
        "\"G\"",
        "\"cyan\"",
        "house.json, line 8, column 27, $.parameters[0].channels[1]: Expected: A channel, red, green, blue or visual.")]
    [InlineData(
        "\"upper\": 0.07",
        "\"upper\": \"0.07\"",
        "house.json, line 9, column 44, $.parameters[0].action.upper: Expected a number or null, found the text \"0.07\".")]
    [InlineData(
        "\"upper\": 0.07",
        "\"upper\": 1e999",
        "house.json, line 9, column 17, $.parameters[0].action: An upper limit must be a finite number, not Infinity.")]
    [InlineData(
        "\"upper\": 0.07",
        "\"uper\": 0.07",
        "house.json, line 9, column 43, $.parameters[0].action.uper: 'uper' is not known here; expected one of lower, upper, source.")]
    [InlineData(
        "\"upper\": 0.09",
        "\"upper\": 0.05",
        "house.json, line 7, column 5, $.parameters[0]: The control limit -0.10 … +0.05 lies inside the action limit ±0.07.")]
    [InlineData("\"source\": \"sheet in the box\"", "\"of\": \"c\"", "$.parameters[0].of: 'of' is not known here; expected one of key, "
        + "name, standsFor, kind, patch, minus, channels, action, control, source, limits.")]
    [InlineData(
        "\"minus\": \"ld\"",
        "\"minus\": \"dmin\"",
        "house.json, line 1, column 1, $: The strip layout 'two' has no patch 'dmin'; it has ld, hd.")]
    [InlineData(
        "\"minus\": \"ld\"",
        "\"minus\": \"ld\", \"minus\": \"hd\"",
        "house.json, line 7, column 124, $.parameters[0].minus: 'minus' is written twice; expected it once.")]
    [InlineData(
        "\"layout\": {",
        "\"layout\": [], \"note\": {",
        "$.layout: Expected an object with key, name, exposure, note, patches, found a list.")]
    [InlineData("\"key\": \"hd\", ", "", "house.json, line 5, column 73, $.layout.patches[1]: 'key' is missing; expected a text.")]
    [InlineData(
        "\"key\": \"hd\", ",
        "\"key\": \"h d\", ",
        "house.json, line 5, column 82, $.layout.patches[1].key: Expected: A word without blanks.")]
    [InlineData("\"status\": \"m\",", "\"status\": \"m\"", "house.json, line 5, column 3: No valid JSON: '\"' is invalid after a value.")]
    [InlineData("\"house\"", "\"\\ud800\"", "house.json, line 2, column 10: No valid JSON: A string is no valid text.")]
    public void Mistake_is_told_with_file_line_column_path_and_what_was_expected(string piece, string replacement, string problem)
    {
        Assert.Contains(piece, House, StringComparison.Ordinal);

        var refusal = Assert.Throws<ProcessSheetException>(
            () => ProcessSheetReader.Read(House.Replace(piece, replacement, StringComparison.Ordinal), "house.json"));

        Assert.Contains(problem, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Mistakes_are_all_told_at_once()
    {
        var text = House.Replace("\"m\"", "\"X\"", StringComparison.Ordinal).Replace("\"G\"", "3", StringComparison.Ordinal);

        Assert.Equal(2, Assert.Throws<ProcessSheetException>(() => ProcessSheetReader.Read(text, "house.json")).Problems.Length);
    }

    /// <summary>What no schema can say is told of every part too, each at its place.</summary>
    [Fact]
    public void Values_that_cannot_be_are_all_told_at_once()
    {
        var text = House.Replace("\"key\": \"hd\"", "\"key\": \"ld\"", StringComparison.Ordinal)
            .Replace("\"upper\": 0.09", "\"upper\": 0.05", StringComparison.Ordinal);

        Assert.Equal(
            [
                "house.json, line 5, column 13, $.layout: The patch key 'ld' is named twice.",
                "house.json, line 7, column 5, $.parameters[0]: The control limit -0.10 … +0.05 lies inside the action limit ±0.07.",
            ],
            Assert.Throws<ProcessSheetException>(() => ProcessSheetReader.Read(text, "house.json")).Problems);
    }

    [Fact]
    public void Comments_and_trailing_commas_do_no_harm() => Assert.Equal(
        "house",
        ProcessSheetReader.Read(House.Replace("\"status\": \"m\",", "\"status\": \"m\", // ISO 5-3", StringComparison.Ordinal)
            .Replace("\"sheet in the box\" }", "\"sheet in the box\", }", StringComparison.Ordinal), "house.json").Key);

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("{\"key\":\"a\"} {}")]
    [InlineData("[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[")]
    public void Text_that_is_no_sheet_is_refused(string text) =>
        Assert.Throws<ProcessSheetException>(() => ProcessSheetReader.Read(text, "house.json"));

    [Fact]
    public void Byte_order_mark_is_no_mistake() => Assert.Equal("house", ProcessSheetReader.Read("\uFEFF" + House, "house.json").Key);

    [Fact]
    public void Damaged_sheet_is_read_or_refused_but_never_breaks_the_reader() =>
        Gen.Select(
            Gen.Int[0, House.Length - 1], Gen.Int[0, 12], Gen.OneOf("", "{", "}", "\"", ",", "null", "-1", "\\u", "[", "é", "\ud800"))
            .Sample((at, length, inserted) =>
            {
                var text = House.Remove(at, Math.Min(length, House.Length - at)).Insert(at, inserted);
                try
                {
                    _ = ProcessSheetReader.Read(text, "house.json");
                }
                catch (ProcessSheetException refusal)
                {
                    Assert.NotEmpty(refusal.Problems);
                    Assert.All(refusal.Problems, p => Assert.StartsWith("house.json, line ", p, StringComparison.Ordinal));
                }
            });
}
