namespace Acquire.Tests.House;

/// <summary>
/// No circles between the namespaces of a project: what a namespace knows lies under it, so that it can be read, tested and moved without
/// what uses it.
/// </summary>
public class NamespaceCircleTests
{
    /// <summary>
    /// How many namespaces stand in circles still to be cut. The list only shrinks: more of them fail, and so does a project listed without
    /// any.
    /// </summary>
    private static readonly Dictionary<string, int> Known = new() { ["Acquire.Storage"] = 19 };

    private static IEnumerable<string> Names =>
        Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(folder => Path.GetFileName(folder)!);

    public static TheoryData<string> Projects => [.. Names];

    [Theory]
    [MemberData(nameof(Projects))]
    public void Namespaces_of_a_project_form_no_circles(string project)
    {
        var graph = GraphOf(project);
        var circles = graph.Circles();
        Assert.True(
            circles.Sum(c => c.Length) <= Known.GetValueOrDefault(project), string.Join('\n', circles.Select(graph.Describe)));
    }

    [Fact]
    public void Known_circles_are_still_there()
    {
        var cut = Known.Keys.Where(p => GraphOf(p).Circles().Count == 0);
        Assert.True(!cut.Any(), $"Gone, take them off the list: {string.Join(", ", cut)}");
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
