using System.Xml.Linq;

namespace Acquire.Tests.House;

/// <summary>
/// References go one way: Formats knows only Domain; Analysis, Instruments and Storage know both; Bench knows those; the executable knows
/// all.
/// </summary>
public class ReferenceDirectionTests
{
    private static readonly Dictionary<string, string[]> MayKnow = new()
    {
        ["Acquire.Domain"] = [],
        ["Acquire.Formats"] = ["Acquire.Domain"],
        ["Acquire.Analysis"] = ["Acquire.Domain", "Acquire.Formats"],
        ["Acquire.Instruments"] = ["Acquire.Domain", "Acquire.Formats"],
        ["Acquire.Storage"] = ["Acquire.Domain", "Acquire.Formats"],
        ["Acquire.Bench"] = ["Acquire.Domain", "Acquire.Formats", "Acquire.Analysis", "Acquire.Instruments", "Acquire.Storage"],
        ["Acquire.Web"] =
            ["Acquire.Domain", "Acquire.Formats", "Acquire.Analysis", "Acquire.Instruments", "Acquire.Storage", "Acquire.Bench"],
        ["Acquire"] =
        [
            "Acquire.Domain", "Acquire.Formats", "Acquire.Analysis", "Acquire.Instruments", "Acquire.Storage", "Acquire.Bench",
            "Acquire.Web",
        ],
    };

    private static readonly Dictionary<string, string[]> MayNotUse = new()
    {
        ["Acquire.Domain"] = ["*"],
        ["Acquire.Analysis"] = ["System.IO.Ports", "Microsoft.Data.Sqlite", "Dapper", "Microsoft.Extensions.Logging.Abstractions"],
    };

    public static TheoryData<string> Projects => [.. MayKnow.Keys];

    [Fact]
    public void Projects_in_src_are_all_listed()
    {
        var inSource = Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(Path.GetFileName);
        Assert.Equal(MayKnow.Keys.Order(), inSource.Order());
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Project_references_only_what_lies_under_it(string project)
    {
        var referenced = Items(project, "ProjectReference").Select(Path.GetFileNameWithoutExtension);
        Assert.Empty(referenced.Except(MayKnow[project]));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Source_names_no_namespace_above_it(string project)
    {
        var foreign = MayKnow.Keys.Except(MayKnow[project]).Where(p => p != project && p != "Acquire").Select(p => $"using {p}.").ToList();
        var offending =
            from file in Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", project), "*.cs", SearchOption.AllDirectories)
            where !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)
            from line in File.ReadLines(file)
            where foreign.Any(f => line.StartsWith(f, StringComparison.Ordinal))
            select $"{file}: {line}";
        Assert.Empty(offending);
    }

    [Theory]
    [InlineData("Acquire.Domain")]
    [InlineData("Acquire.Analysis")]
    public void Pure_projects_use_no_package_of_the_outer_world(string project)
    {
        var used = Items(project, "PackageReference").ToList();
        Assert.Empty(MayNotUse[project].Contains("*") ? used : used.Intersect(MayNotUse[project]));
    }

    private static IEnumerable<string> Items(string project, string element) =>
        XDocument.Load(Path.Combine(Repository.Root, "src", project, $"{project}.csproj"))
            .Descendants(element)
            .Select(e => e.Attribute("Include")!.Value.Replace('\\', '/'));
}
