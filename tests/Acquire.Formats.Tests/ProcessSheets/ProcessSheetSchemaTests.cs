using Acquire.Formats.ProcessSheets;
using Json.Schema;

namespace Acquire.Formats.Tests.ProcessSheets;

/// <summary>The published schema and the reader say the same of every sheet, as far as a schema can.</summary>
public class ProcessSheetSchemaTests
{
    internal const string House = """
        {
          "key": "house", "name": "House", "status": "M", "geometry": "reflection",
          "layouts": [{ "key": "w", "name": "wedge", "exposure": "lux seconds", "note": "n",
            "patches": [{ "key": "a", "name": "A", "logH": 0 }, { "key": "b", "name": "B", "logH": 0.15, "role": "curve" }, { "key": "c", "name": "C" }] }],
          "parameters": [
            { "key": "p", "name": "P", "standsFor": "", "kind": "patch", "patch": "a", "channels": ["red", "G", "blue"],
              "action": { "lower": -0.1, "upper": null }, "source": "box", "limits": { "red": { "control": { "upper": 0.2 } }, "blue": {} } },
            { "key": "d", "name": "D", "standsFor": "", "kind": "difference", "patch": "a", "minus": "c", "channels": ["red"],
              "action": { "lower": null, "upper": null }, "control": null, "source": null },
            { "key": "s", "name": "S", "standsFor": "", "kind": "spread", "of": "p" },
            { "key": "g", "name": "G", "standsFor": "", "kind": "gradient", "base": "a", "from": { "above": 0.1 }, "to": { "beyond": 1.3 }, "channels": ["red"] },
            { "key": "l", "name": "L", "standsFor": "", "kind": "slope", "fromPatch": "a", "toPatch": "b", "channels": ["visual"] },
            { "key": "v", "name": "V", "standsFor": "", "kind": "speedPoint", "base": "a", "above": 0.1, "channels": ["visual"] }
          ]
        }
        """;

    private static readonly JsonSchema Schema = JsonSchema.FromText(ProcessSheetSchema.Text());

    [Fact]
    public void Sheet_with_all_there_is_passes_both()
    {
        Assert.True(Passes(House));
        Assert.Equal(6, ProcessSheetReader.Read(House, "house.json").Parameters.Length);
    }

    [Fact]
    public void Shipped_sheets_pass()
    {
        var assembly = typeof(ShippedSheets).Assembly;
        var shipped = assembly.GetManifestResourceNames().Where(n => n.Contains(".Shipped.", StringComparison.Ordinal)).ToList();

        Assert.Equal(ShippedSheets.All.Length, shipped.Count);
        Assert.All(shipped, name =>
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            Assert.True(Passes(reader.ReadToEnd()), name);
        });
    }

    [Fact]
    public void Any_written_sheet_passes() => Sheets.Any.Sample(sheet => Assert.True(Passes(ProcessSheetWriter.Write(sheet))), iter: 50);

    // A piece of the sheet and what it is replaced by. Each makes a sheet that both refuse.
    [Theory]
    [InlineData("\"key\": \"house\", ", "")]
    [InlineData("\"key\": \"house\"", "\"key\": \" \"")]
    [InlineData("\"key\": \"house\"", "\"key\": 7")]
    [InlineData("\"key\": \"house\"", "\"kei\": \"house\"")]
    [InlineData("\"status\": \"M\"", "\"status\": \"X\"")]
    [InlineData("\"reflection\"", "\"sideways\"")]
    [InlineData("\"layouts\": [", "\"layout\": [")]
    [InlineData("\"layouts\": [", "\"layout\": { \"name\": \"l\", \"patches\": [{ \"key\": \"a\", \"name\": \"A\" }] }, \"layouts\": [")]
    [InlineData("\"key\": \"w\", ", "")]
    [InlineData("\"key\": \"w\"", "\"key\": \"w 1\"")]
    [InlineData("\"lux seconds\"", "\"candles\"")]
    [InlineData("\"key\": \"a\", \"name\": \"A\", ", "\"name\": \"A\", ")]
    [InlineData("\"logH\": 0.15", "\"logH\": \"0.15\"")]
    [InlineData("\"role\": \"curve\"", "\"role\": \"star\"")]
    [InlineData("\"key\": \"c\"", "\"key\": \"c d\"")]
    [InlineData("\"channels\": [\"red\", \"G\", \"blue\"]", "\"channels\": []")]
    [InlineData("\"channels\": [\"red\", \"G\", \"blue\"]", "\"channels\": [\"red\", \"cyan\"]")]
    [InlineData("\"channels\": [\"red\", \"G\", \"blue\"]", "\"channels\": [\"red\", \"red\"]")]
    [InlineData("\"lower\": -0.1", "\"lower\": 0.1")]
    [InlineData("{ \"lower\": -0.1, \"upper\": null }", "{}")]
    [InlineData("\"upper\": 0.2", "\"upper\": -0.2")]
    [InlineData("\"upper\": 0.2", "\"uper\": 0.2")]
    [InlineData("\"red\": {", "\"cyan\": {")]
    [InlineData("\"blue\": {}", "\"blue\": []")]
    [InlineData("\"blue\": {}", "\"blue\": { \"limit\": null }")]
    [InlineData("\"kind\": \"patch\", ", "")]
    [InlineData("\"kind\": \"patch\"", "\"kind\": \"ratio\"")]
    [InlineData("\"minus\": \"c\", ", "")]
    [InlineData("\"of\": \"p\"", "\"off\": \"p\"")]
    [InlineData("\"above\": 0.1 },", "\"above\": 0 },")]
    [InlineData("\"above\": 0.1 },", "\"above\": 0.1, \"logH\": 1 },")]
    [InlineData("\"above\": 0.1 },", "\"beyond\": 0.1 },")]
    [InlineData("\"beyond\": 1.3", "\"beyond\": 0")]
    [InlineData("{ \"beyond\": 1.3 }", "1.3")]
    [InlineData("\"toPatch\": \"b\", ", "")]
    [InlineData("\"base\": \"a\", \"above\": 0.1, \"channels\"", "\"above\": 0.1, \"channels\"")]
    [InlineData("\"base\": \"a\", \"above\": 0.1, \"channels\"", "\"base\": \"a\", \"above\": -0.1, \"channels\"")]
    public void Bad_sheet_is_refused_by_both(string piece, string replacement)
    {
        Assert.Contains(piece, House, StringComparison.Ordinal);
        var bad = House.Replace(piece, replacement, StringComparison.Ordinal);

        Assert.False(Passes(bad));
        _ = Assert.Throws<ProcessSheetException>(() => ProcessSheetReader.Read(bad, "house.json"));
    }

    [Fact]
    public void Layout_of_more_than_a_hundred_patches_is_refused_by_both()
    {
        var many = string.Join(", ", Enumerable.Range(0, 99).Select(n => $$"""{ "key": "m{{n}}", "name": "M {{n}}" }"""));
        var bad =
            House.Replace("{ \"key\": \"c\", \"name\": \"C\" }", "{ \"key\": \"c\", \"name\": \"C\" }, " + many, StringComparison.Ordinal);

        Assert.False(Passes(bad));
        Assert.Contains(
            "at most 100",
            Assert.Throws<ProcessSheetException>(() => ProcessSheetReader.Read(bad, "house.json")).Message, StringComparison.Ordinal);
    }

    private static bool Passes(string sheet) => Schema.Evaluate(System.Text.Json.JsonDocument.Parse(sheet).RootElement).IsValid;
}
