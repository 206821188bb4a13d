using Acquire.Formats.Tables;

namespace Acquire.Rendering.Imports;

/// <summary>A proposed column map: which column is taken for what, and what is still to be said.</summary>
internal static class MapReport
{
    public static void Write(Surroundings surroundings, MapProposal proposed, string target)
    {
        var map = proposed.Map;
        surroundings.Out.Line($"{target}: a row per {(map.Rows == RowKind.Strip ? "strip" : "patch")}.");
        foreach (var (role, column) in map.Columns)
        {
            surroundings.Out.Line($"  {role,-14} '{column}'");
        }

        foreach (var density in map.Densities)
        {
            surroundings.Out.Line($"  {density.Patch + " " + density.Channel.Word(),-14} "
                + $"'{density.Column}'{(density.Read > 1 ? $", read {density.Read}" : "")}");
        }

        foreach (var column in proposed.Unknown)
        {
            surroundings.Out.Line($"  {"passed over",-14} '{column}'");
        }

        surroundings.Error.Lines(proposed.Lacks());
    }
}
