using System.Text.Json;
using System.Text.Json.Nodes;
using Acquire.Formats.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Writes a process sheet as JSON that <see cref="ProcessSheetReader"/> reads back to an equal sheet.</summary>
public static class ProcessSheetWriter
{
    /// <summary>
    /// The JSON text, indented by two, with a newline at the end. Where a parameter has no limits, their places stand there as null, for
    /// the user to fill in.
    /// </summary>
    public static string Write(ProcessSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var json = JsonSerializer.SerializeToNode(SheetDocument.Of(sheet), JsonText.Options)!;
        foreach (var (parameter, members) in sheet.Parameters.Zip(json["parameters"]!.AsArray()).Where(p => !p.First.HasLimits))
        {
            members!["action"] = Blank();
            members["control"] = Blank();
            members["source"] = null;
        }

        return json.ToJsonString(JsonText.Edited) + "\n";
    }

    private static JsonObject Blank() => new() { ["lower"] = null, ["upper"] = null };
}

/// <summary>A process sheet as it is kept with the strips that were judged by it.</summary>
public static class SheetSnapshot
{
    /// <summary>The sheet in one line, the same for equal sheets.</summary>
    public static string Write(ProcessSheet sheet) => JsonSerializer.Serialize(SheetDocument.Of(sheet), JsonText.Options);

    /// <summary>Reads what <see cref="Write"/> wrote, in this version or an earlier one. Its form is not checked.</summary>
    /// <exception cref="JsonException">It is no such text.</exception>
    /// <exception cref="FormatException">A word is none that is known.</exception>
    /// <exception cref="ImpossibleValueException">A value cannot be.</exception>
    public static ProcessSheet Read(string text) =>
        EarlierJson.Deserialize<SheetDocument>(text, JsonText.Options)?.ToSheet(null)
            ?? throw new FormatException("null is no process sheet");
}
