"""Without a signal: the server is really stopped and the browser started cold."""

from collections.abc import Callable

from selenium.webdriver.common.by import By

from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table


def test_after_one_visit_the_whole_job_is_done_with_the_server_stopped(field: Table) -> None:
    phone = field.phone
    walk = field.new_set("Tern C")
    for stage in ("what-is-it", "front", "top", "back", "underneath", "moves"):
        field.tap(f"#stage-{stage} .rest")
        field.until_saved()
    field.answer("added-holes", "None found")
    field.type("#asking", "120")
    field.until_saved()
    price, line = field.price(), field.said("dial")
    field.tap(".to-verdict")
    verdict = field.find(".verdict-word").text
    assert verdict

    phone.cold_start()
    field.open(walk)
    assert field.price() == price
    assert field.said("dial") == line
    assert field.find("#asking").get_attribute("value") == "120"
    field.tap(".to-verdict")
    assert field.find(".verdict-word").text == verdict


def test_a_page_of_the_server_says_without_a_signal_where_the_app_is(field: Table) -> None:
    driver = field.phone.driver
    driver.get(f"{field.address}/form")
    assert driver.find_element(By.CSS_SELECTOR, "a[href='/']").is_displayed()


def test_the_app_says_when_it_is_ready_to_work_without_a_signal(
    standing_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    table = Table(browser(), standing_server.url)
    table.open()
    table.until_ready_offline()
    table.open("#/about")
    table.find(".card", "Ready to work without a signal")
    kept = table.find(".card", "What is kept").text
    assert "promised to keep it" in kept
