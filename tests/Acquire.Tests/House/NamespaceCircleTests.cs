namespace Acquire.Tests.House;

/// <summary>
/// No circles between the namespaces of a project: what a namespace knows lies under it, so that it can be read, tested and moved without what uses it.
/// </summary>
public class NamespaceCircleTests
{
    /// <summary>Circles still to be cut. The list only shrinks: a circle that is gone, and a namespace that joins one, fail.</summary>
    private static readonly string[][] Known =
    [
        [
            "Acquire.Storage", "Acquire.Storage.Backups", "Acquire.Storage.Books", "Acquire.Storage.Cgats", "Acquire.Storage.Export",
            "Acquire.Storage.Export.Xlsx", "Acquire.Storage.Files", "Acquire.Storage.Import.Strips", "Acquire.Storage.Inspection", "Acquire.Storage.Lots",
            "Acquire.Storage.Migrations", "Acquire.Storage.Processes", "Acquire.Storage.Reads", "Acquire.Storage.Rows",
            "Acquire.Storage.Seals", "Acquire.Storage.Sessions", "Acquire.Storage.Strips", "Acquire.Storage.Trust",
            "Acquire.Storage.Writing",
        ],
        ["Acquire.Bench.Strips", "Acquire.Bench.Trust"],
    ];

    private static IEnumerable<string> Names => Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(folder => Path.GetFileName(folder)!);

    public static TheoryData<string> Projects => [.. Names];

    [Theory]
    [MemberData(nameof(Projects))]
    public void Namespaces_of_a_project_form_no_circles(string project)
    {
        var graph = GraphOf(project);
        Assert.Empty(graph.Circles().Where(c => !Known.Any(k => c.All(k.Contains))).Select(graph.Describe));
    }

    [Fact]
    public void Known_circles_are_still_there()
    {
        var found = Names.SelectMany(p => GraphOf(p).Circles()).ToList();
        Assert.Empty(Known.Where(k => !found.Any(c => c.All(k.Contains))).Select(k => $"gone, take it off the list: {string.Join(", ", k)}"));
    }

    [Fact]
    public void A_use_in_a_method_body_only_closes_a_circle()
    {
        var graph = NamespaceGraph.Of(typeof(NamespaceCircleTests).Assembly.Location, "Acquire.Tests.House.CircleSample");
        var circle = Assert.Single(graph.Circles());
        Assert.Equal(["Acquire.Tests.House.CircleSample.Left", "Acquire.Tests.House.CircleSample.Right"], circle);
        Assert.Contains("Right -> Acquire.Tests.House.CircleSample.Left: User uses Used", graph.Describe(circle), StringComparison.Ordinal);
    }

    private static NamespaceGraph GraphOf(string project) =>
        NamespaceGraph.Of(Path.Combine(AppContext.BaseDirectory, project == "Acquire" ? "acquire.dll" : $"{project}.dll"), project);
}
